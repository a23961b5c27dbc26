//go:build unix

package main

import (
	"fmt"
	"time"
)

// place is a screen that keys are measured on: how it is reached from home, and
// two keys that change it in turn.
type place struct {
	name string
	to   []step
	keys [2]string
	back int           // screens to go back to home
	gap  time.Duration // between two keys, where closer ones would be a held key
}

const (
	up   = "\x1b[A"
	down = "\x1b[B"
)

// places are reached from home with the cursor on the open visit of the measured
// horse, which is the first line.
func places() []place {
	exam := step{"enter", "x not done"}
	horse := []step{{"down", ">"}, {"enter", "b go on"}}
	compared := append(horse[:2:2], step{"c", "Comparison"}, step{"a", "temperature C"}) // the newest visit is open and has nothing of its own
	return []place{
		{name: "home", keys: [2]string{down, up}},
		{name: "home, searching", to: []step{{"/", "find:"}, {"0", "find: 0"}}, keys: [2]string{"1", "\x7f"}, back: 1},
		{name: "horse", to: horse, keys: [2]string{down, up}, back: 1},
		{name: "exam", to: []step{exam}, keys: [2]string{"1", "2"}, back: 1},
		{name: "exam, tapping", to: []step{exam, {"tab", "│ Demeanor"}, {"tab", "│ Posture"}, {"tab", "│ Breathing rate"}}, keys: [2]string{" ", " "}, back: 2, gap: tapEvery},
		{name: "review", to: []step{exam, {"r", "Review · "}}, keys: [2]string{down, up}, back: 2},
		{name: "comparison", to: compared, keys: [2]string{"\x1b[C", "\x1b[D"}, back: 2},
		{name: "trend", to: append(compared[:4:4], step{"enter", "Trend"}), keys: [2]string{down, up}, back: 3},
	}
}

// block is how many keys go to one program before the other has its turn, so that a busy machine slows both.
const block = 20

// keysTable measures from the key to its frame, on every screen and in turns
// with the bare program.
func (b *bench) keysTable() error {
	rows := [][]string{{"window", "screen", "bare median ms", "median ms", "ratio", "bare p99 ms", "p99 ms", "ratio"}}
	for _, size := range sizes() {
		bare, err := b.open(size, b.bare)
		if err != nil {
			return err
		}
		if err := bare.WaitFor("presses", patience); err != nil {
			return err
		}
		ours, err := b.open(size, b.ours)
		if err != nil {
			return err
		}
		for _, p := range places() {
			row, err := b.keysOf(bare, ours, p)
			if err != nil {
				return fmt.Errorf("%s: %w", p.name, err)
			}
			rows = append(rows, append([]string{fmt.Sprintf("%dx%d", size[0], size[1]), p.name}, row...))
		}
		if err := bare.leave(); err != nil {
			return err
		}
		if err := ours.leave(); err != nil {
			return err
		}
	}
	table(fmt.Sprintf("From the key to the whole frame, %d keys each, in turns with the bare program.", b.presses), rows)
	return nil
}

func (b *bench) keysOf(bare, ours *window, p place) ([]string, error) {
	if err := ours.WaitFor(measured, patience); err != nil {
		return nil, err
	}
	if err := ours.follow(p.to); err != nil {
		return nil, err
	}
	ours.Settle(4 * quiet)
	var floor, all []time.Duration
	bare.frames, ours.frames = 0, 0
	for len(all) < b.presses {
		for range block {
			d, err := bare.frame("x")
			if err != nil {
				return nil, fmt.Errorf("the bare program: %w", err)
			}
			floor = append(floor, d)
		}
		for i := range block {
			if p.gap > 0 {
				ours.last = ours.last.Add(p.gap.Truncate(tick))
			}
			d, err := ours.frame(p.keys[i%2])
			if err != nil {
				return nil, err
			}
			all = append(all, d)
		}
	}
	if err := goBack(ours, p.back); err != nil {
		return nil, err
	}
	f, o := spreadOf(floor), spreadOf(all)
	return []string{ms(f.median), ms(o.median), ratio(o.median, f.median), ms(f.p99), ms(o.p99), ratio(o.p99, f.p99)}, nil
}

// goBack leaves the screens above home and puts the cursor on the first line of home. A count in progress takes one more
// esc, because it is asked about.
func goBack(w *window, screens int) error {
	for range screens + 1 {
		if err := w.Send("esc"); err != nil {
			return err
		}
		w.Settle(2 * quiet)
	}
	if err := w.WaitFor("ctrl+c leave", patience); err != nil {
		return err
	}
	if err := w.Send("home"); err != nil {
		return err
	}
	w.Settle(2 * quiet)
	return nil
}
