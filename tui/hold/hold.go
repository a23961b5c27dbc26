// Package hold separates the presses of a person from the repeats of a held key, so that a held key answers once. A
// terminal does not report key releases: a held key is one press, a pause of 250 to 1100 ms, then 10 to 40 presses a
// second.
//
// A press counts at once, but for one: the same key as before waits 110 ms, because a
// slow keyboard repeats every 100 ms; where one more comes, neither counts. Keys that
// answer nothing may repeat: space, arrows, backspace, and what is typed (keys.Repeats,
// keys.Light).
//
// It has no clock: every press carries its time, and Until says when Due must be called.
package hold

import (
	"time"

	"loosebox/tui/keys"
)

// The times between two presses of the same key.
const (
	// Repeat is the least between two presses that both count. A slow keyboard
	// repeats after 100 ms, a quick hand presses every 120 ms.
	Repeat = 110 * time.Millisecond
	// Wait is how long a press that may be the first repeat waits for a second
	// one. It is longer than the 100 ms of a slow keyboard; with 60 ms the first
	// repeat would count and only those behind it would not.
	Wait = Repeat
	// Quiet is the silence after which a key that was held counts again.
	Quiet = 400 * time.Millisecond
	// Late is the longest time after which a press may still be a first repeat:
	// the longest pause of a keyboard, and what a busy machine adds to it.
	Late = 2 * time.Second
)

// Pressed is the state of the key that was pressed last. Its zero value is ready to use.
type Pressed struct {
	name    string
	last    time.Time // of the last press of it, counted or not
	dropped int       // presses dropped one after the other
	waiting bool
	press   keys.Press // the one that waits
	until   time.Time
}

// Press adds a press and returns the presses that count now, in order. Every press of a free key counts: such a key counts
// beats, moves or types, and does not answer.
func (k *Pressed) Press(p keys.Press, free bool) []keys.Press {
	if name := p.String(); name != k.name || free {
		out := append(k.Release(), p)
		*k = Pressed{name: name, last: p.At}
		return out
	}
	gap := p.At.Sub(k.last)
	k.last = p.At
	switch {
	case k.waiting: // asked again too late, or the second repeat: neither counts
		k.waiting, k.press = false, keys.Press{}
		k.dropped += 2
	case gap < Repeat, k.dropped > 1 && gap < Quiet:
		k.dropped++
	case gap < Late:
		k.waiting, k.press, k.until = true, p, p.At.Add(Wait)
	default:
		k.dropped = 0
		return []keys.Press{p}
	}
	return nil
}

// Until is when a press has waited long enough; zero where none waits.
func (k *Pressed) Until() time.Time {
	if !k.waiting {
		return time.Time{}
	}
	return k.until
}

// Due returns the press that has waited long enough, if there is one.
func (k *Pressed) Due(now time.Time) []keys.Press {
	if !k.waiting || now.Before(k.until) {
		return nil
	}
	k.dropped = 0
	return k.Release()
}

// Release returns the waiting press, because something else happened after it.
func (k *Pressed) Release() []keys.Press {
	if !k.waiting {
		return nil
	}
	p := k.press
	k.waiting, k.press = false, keys.Press{}
	return []keys.Press{p}
}
