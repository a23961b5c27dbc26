//go:build unix && !solaris && !aix

package main

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/storage"
)

const patience = 30 * time.Second

// seat starts the program in a window of 80 x 24.
func (p place) seat(args ...string) (*termtest.Terminal, error) {
	return termtest.Start(termtest.Options{Program: p.program, Args: args, W: 80, H: 24, Env: termtest.Env(p.out, p.data, "TMPDIR="+p.temp)})
}

var counter = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(` (\d+) of \d+( |$)`) })

// answered is the number of stored answers in the title line; -1 where there is none.
func answered(t *termtest.Terminal) int {
	m := counter().FindStringSubmatch(t.Screen()[0])
	if m == nil {
		return -1
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return -1
	}
	return n
}

// inRecord checks the whole record and returns Wren's open visit with its lines.
func inRecord(p place) (v exam.Visit, lines []exam.Entry, err error) {
	r, err := storage.Open(p.data, storage.Options{})
	if err != nil {
		return v, nil, broken("%v", err)
	}
	defer func() { _ = r.Close() }()
	if err := whole(r); err != nil {
		return v, nil, err
	}
	open, err := r.Unfinished()
	if err != nil || len(open) != 1 {
		return v, nil, broken("%d visits are open (%v)", len(open), err)
	}
	lines, err = r.Entries(open[0].ID)
	return open[0], lines, err
}

// words is an answer as it is said to a person.
func words(e exam.Entry) string {
	step, _ := steps.Table().ByID(e.Step)
	if e.Value == nil {
		return "not done, " + e.Reason
	}
	return e.Value.Show(step)
}

// answers are the lines that answer a place, in their order.
func answers(lines []exam.Entry) []exam.Entry {
	var out []exam.Entry
	for _, e := range lines {
		if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone {
			out = append(out, e)
		}
	}
	return out
}

// storedLine is what the exam screen says of an answer that is stored, where it stands on one line.
var storedLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`│ ✓ ([^│]+) saved$`) })

// saidStored are the answers that the screen says are stored, in its words.
func saidStored(t *termtest.Terminal) []string {
	var out []string
	for _, line := range t.Screen() {
		if m := storedLine().FindStringSubmatch(strings.TrimRight(line, " ")); m != nil {
			out = append(out, m[1])
		}
	}
	return out
}

// holds says that a visit holds an answer in the words in which the screen called it stored.
func holds(v exam.Visit, said string) bool {
	for _, f := range v.Findings {
		step, _ := steps.Table().ByID(f.Step)
		name := step.Short
		if f.Site != exam.NoSite {
			name += " " + f.Site.String()
		}
		if f.Done() && said == name+": "+f.Value.Show(step) {
			return true
		}
	}
	return false
}

// tryKillScreens kills the program during an exam at the screens. Every answer that the title line counted, or that was
// shown as stored, must be in the record, and the next start must show it.
func tryKillScreens(dir string, r rounds) (outcome, error) {
	return killRounds(dir, r, 33, killScreens, "%d answers shown as stored, all in the record; the next start goes on with them")
}

// killRounds kills the program again and again in the way given, which says how many answers were stored; five go on with one
// record. The seed is added to the one of the rounds; seen is the outcome with its number of answers.
func killRounds(dir string, r rounds, seed uint64, kill func(place, *rand.Rand) (int, error), seen string) (outcome, error) {
	rnd, o := chance(r, seed), outcome{lost: "nothing"}
	stored := 0
	var p place
	for i := range r.others {
		if i%5 == 0 { // the others go on with the visit
			var err error
			removeAll(p.dir)
			if p, err = newPlace(filepath.Join(dir, fmt.Sprint(i))); err != nil {
				return o, err
			}
		}
		n, err := kill(p, rnd)
		if err != nil {
			return o, fmt.Errorf("kill %d: %w", i+1, err)
		}
		stored += n
		o.times++
	}
	o.seen = fmt.Sprintf(seen, stored)
	return o, nil
}

func killScreens(p place, rnd *rand.Rand) (shown int, err error) {
	before, _, err := inRecord(p)
	if err != nil {
		return 0, err
	}
	had := len(before.Findings)
	t, err := p.seat("exam", "Wren")
	if err != nil {
		return 0, err
	}
	defer func() { _ = t.Kill() }()
	if err := t.Until("the exam", func(t *termtest.Terminal) bool { return answered(t) >= 0 }, patience); err != nil {
		return 0, err
	}
	begun := answered(t)
	if begun != had {
		return 0, broken("%d answers are in the record, the next start shows %d", had, begun)
	}
	var said []string
	for range 1 + rnd.IntN(8) {
		before := answered(t)
		for _, keys := range [][]string{{"u"}, {"esc", "esc"}, {"x", "1", "enter"}} {
			if answered(t) < 0 { // esc went further than a field
				if err := t.Send("enter"); err != nil {
					return 0, err
				}
			}
			if err := t.Send(keys...); err != nil {
				return 0, err
			}
			if t.Until("an answer", func(t *termtest.Terminal) bool { return answered(t) > before }, time.Second) == nil {
				break
			}
		}
		said = append(said, saidStored(t)...)
	}
	shown = answered(t)
	if err := t.Send("u"); err != nil { // and one more is on its way
		return 0, err
	}
	time.Sleep(time.Duration(rnd.IntN(60)) * time.Millisecond)
	shown = max(shown, answered(t))
	if err := t.Kill(); err != nil {
		return 0, err
	}
	shown = max(shown, answered(t)) // what was still drawn
	after, _, err := inRecord(p)
	switch n := len(after.Findings); {
	case err != nil:
		return 0, err
	case n < shown:
		return 0, broken("%d answers were shown as stored, %d are in the record", shown, n)
	}
	for _, text := range said {
		if !holds(after, text) {
			return 0, broken("%q was shown as stored and is not in the record", text)
		}
	}
	return shown - begun, nil
}
