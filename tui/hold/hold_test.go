package hold_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"loosebox/tui/hold"
	"loosebox/tui/keys"
)

// key is a press by its name, some milliseconds after the beginning.
type key struct {
	name string
	at   int
}

func start() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

func (k key) press() keys.Press {
	m := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k.name)}
	if k.name == "enter" {
		m = tea.KeyMsg{Type: tea.KeyEnter}
	}
	return keys.Press{KeyMsg: m, At: start().Add(time.Duration(k.at) * time.Millisecond)}
}

// play presses keys at their times and asks whenever the wait of one is over,
// before the next press, as a machine with time to spare does.
func play(list []key, free bool) (names []string) {
	var k hold.Pressed
	count := func(out []keys.Press) {
		for _, p := range out {
			names = append(names, p.String())
		}
	}
	for _, one := range list {
		p := one.press()
		if until := k.Until(); !until.IsZero() && !p.At.Before(until) {
			count(k.Due(until))
		}
		count(k.Press(p, free))
	}
	count(k.Due(start().Add(time.Hour)))
	return names
}

// every is a key pressed n times from a moment on, in milliseconds.
func every(name string, from, gap, n int) []key {
	out := make([]key, n)
	for i := range out {
		out[i] = key{name, from + i*gap}
	}
	return out
}

// held is the stream of a key that is held: delay, then so many repeats.
func held(name string, delay, gap, n int) []key {
	return append([]key{{name, 0}}, every(name, delay, gap, n)...)
}

func TestWhatCounts(t *testing.T) {
	for name, c := range map[string]struct {
		presses []key
		want    int
	}{
		"one press":                            {every("u", 0, 0, 1), 1},
		"every 120 ms":                         {every("u", 0, 120, 10), 10},
		"every 300 ms":                         {every("u", 0, 300, 10), 10},
		"every 5 s":                            {every("u", 0, 5000, 3), 3},
		"held, 30 a second":                    {held("u", 500, 33, 45), 1},
		"held, 10.9 a second":                  {held("u", 250, 92, 20), 1},
		"held, 10 a second after 1.1 s":        {held("u", 1100, 100, 10), 1},
		"held, 40 a second":                    {held("u", 250, 25, 70), 1},
		"a bounce":                             {[]key{{"u", 0}, {"u", 8}}, 1},
		"a person, a pause, then every 120 ms": {append(every("u", 0, 0, 1), every("u", 700, 120, 4)...), 5},
		"held, then pressed again":             {append(held("u", 500, 33, 30), key{"u", 2500}), 2},
		"held, a gap of a busy machine in it":  {append(held("u", 500, 33, 10), every("u", 1050, 33, 10)...), 1},
		"two keys in turn":                     {[]key{{"u", 0}, {"enter", 30}, {"u", 60}, {"enter", 90}}, 4},
	} {
		assert.Len(t, play(c.presses, false), c.want, name)
	}
}

func TestAnotherKeyLetsTheWaitingOneGoFirst(t *testing.T) {
	assert.Equal(t, []string{"u", "u", "x"}, play([]key{{"u", 0}, {"u", 400}, {"x", 430}}, false))
}

func TestAFreeKeyAlwaysCounts(t *testing.T) {
	assert.Len(t, play(held("u", 500, 33, 45), true), 46)
}

// Whatever the keyboard, a held key answers once, also where each press is read
// late: by up to 7 ms on a machine with time to spare.
func TestAHeldKeyAnswersOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		delay, gap := rapid.IntRange(250, 1100).Draw(t, "delay"), rapid.IntRange(25, 100).Draw(t, "gap")
		list := held("u", delay, gap, rapid.IntRange(2, 80).Draw(t, "repeats"))
		for i := range list {
			list[i].at += rapid.IntRange(0, 7).Draw(t, "late")
		}
		if got := play(list, false); len(got) != 1 {
			t.Fatalf("counted %d times", len(got))
		}
	})
}

// Presses of a person all count, each read up to 10 ms late.
func TestPressesOfAPersonAllCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, list := 0, []key{}
		for range rapid.IntRange(1, 30).Draw(t, "presses") {
			list = append(list, key{"u", at + rapid.IntRange(0, 10).Draw(t, "late")})
			at += rapid.IntRange(120, 3000).Draw(t, "gap")
		}
		if got := play(list, false); len(got) != len(list) {
			t.Fatalf("%d of %d count", len(got), len(list))
		}
	})
}

// A busy machine reads the presses of a held key late and close together, and asks
// for what is due late as well. No press then counts twice.
func TestAHeldKeyReadLateAnswersOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var k hold.Pressed
		list := held("u", rapid.IntRange(250, 1100).Draw(t, "delay"), rapid.IntRange(25, 92).Draw(t, "gap"), 40)
		n, stalled := 0, 0
		for i, one := range list {
			// The program stands still for a while and then reads what has gathered.
			if i%7 == 0 {
				stalled = one.at + rapid.IntRange(0, 250).Draw(t, "stall")
			}
			one.at = max(one.at, stalled)
			p := one.press()
			// The wait is over only where the program was awake then.
			if until := k.Until(); !until.IsZero() && p.At.After(until) && one.at > stalled {
				n += len(k.Due(until))
			}
			n += len(k.Press(p, false))
		}
		n += len(k.Due(start().Add(time.Hour)))
		if n != 1 {
			t.Fatalf("counted %d times", n)
		}
	})
}

// The presses that count are presses that were made, in their order.
func TestWhatCountsKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, list := 0, []key{}
		for range rapid.IntRange(0, 40).Draw(t, "presses") {
			at += rapid.IntRange(0, 1500).Draw(t, "gap")
			list = append(list, key{rapid.SampledFrom([]string{"u", "x", "enter"}).Draw(t, "key"), at})
		}
		i := 0
		for _, name := range play(list, false) {
			for i < len(list) && list[i].name != name {
				i++
			}
			if i == len(list) {
				t.Fatalf("%q counted out of its order", name)
			}
			i++
		}
	})
}
