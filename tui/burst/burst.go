// Package burst separates what a reader of chips or codes types from what a person types. A reader acts as a keyboard that
// types a whole line at a few milliseconds a key; its keys must not answer questions.
//
// A letter or digit that may answer waits 35 ms. Six characters with an average of at most 35 ms between them are a burst.
// Presses that only type or move a cursor act at once, and are undone when a burst is found (keys.Light).
//
// Some readers are slower, up to 80 ms a key. What they type acts as keys, but the end of their line never does: it would
// answer with whatever the digits chose.
//
// It has no clock: every press carries its time, and Until says when Due must be called.
package burst

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
)

// The limits of a burst. We know of nobody who types 28 keys a second.
const (
	Least   = 6                      // characters
	Average = 35 * time.Millisecond  // between two of them, at most
	Gap     = 80 * time.Millisecond  // the longest between two of them
	Silence = 120 * time.Millisecond // ends it where no key does
	// Digits in a line without a longer Gap whose end is a reader's.
	Digits = 9
	// Tail is how long after a burst a late line end is still taken for its end and ignored. A person cannot react to a
	// scan in that time.
	Tail = 300 * time.Millisecond
	// Wait is how long a key that would answer waits for a second one.
	Wait = 35 * time.Millisecond
	// EscWait is how long esc waits: answers of the terminal begin with the same byte, and their rest comes sooner.
	EscWait = 25 * time.Millisecond
)

// held is how many equal characters in a row mean that a key is held; a chip number may begin with fewer.
const held = 14

// DeedKind is a kind of deed.
type DeedKind int

// The kinds.
const (
	Act      DeedKind = iota // the press counts now
	Keep                     // remember how the screen stands: the next press may be taken back
	TakeBack                 // put back what was kept
	Scan                     // the text came from a reader
)

// Deed is one thing to be done.
type Deed struct {
	Kind  DeedKind
	Press keys.Press // of Act
	Text  string     // of Scan, without start and end characters
	// Typed is Text without the characters at its beginning that acted before it was known as a reader's, and cannot be
	// undone: the digit that opened a form is not typed into it.
	Typed string
}

// Run is the present run of presses that follow each other closely. Its zero value is ready to use.
type Run struct {
	runes       []rune
	acted       int // of runes: how many at the beginning acted and cannot be undone
	first, last time.Time
	kept        bool // what acted since can be taken back
	held        []keys.Press
	until       time.Time // of held
	esc         bool      // esc alone is held
	burst       bool      // the run is a burst, which is not over
	ended       time.Time // of the burst before: signs of its end may follow
}

// Press adds the press of one key and returns what to do now, in order. A light press acts at once, because it can be
// undone; any other waits until it is clear that it does not begin a burst.
func (r *Run) Press(p keys.Press, light bool) []Deed {
	if r.esc {
		return append(r.release(), r.Press(p, light)...)
	}
	char, typed := character(p)
	switch {
	case r.burst:
		return r.more(p, char, typed)
	case r.ends(p):
		r.ended = p.At
		return nil
	case ending(p) && r.isSlow(p.At):
		return r.slow(p.At)
	case p.Type == tea.KeyCtrlB: // STX
		out := r.stop()
		r.burst, r.last = true, p.At
		return out
	case typed:
		return r.typed(p, char, light)
	case p.Type == tea.KeyEsc && !p.Alt:
		out := r.stop()
		r.esc, r.held, r.until = true, []keys.Press{p}, p.At.Add(EscWait)
		return out
	}
	return append(r.stop(), Deed{Kind: Act, Press: p})
}

// typed adds a character while the run is not a burst.
func (r *Run) typed(p keys.Press, char rune, light bool) []Deed {
	out := r.Pause(p.At)
	if len(r.runes) == 0 {
		r.ended = time.Time{}
		if char == ' ' { // a tap never waits, and no reader begins with a space
			return append(out, Deed{Kind: Act, Press: p})
		}
		r.first = p.At
	}
	r.runes, r.last = append(r.runes, char), p.At
	switch {
	case r.isBurst():
		if r.kept {
			out = append(out, Deed{Kind: TakeBack})
		}
		r.kept, r.held, r.burst = false, nil, true
	case len(r.held) == 0 && light:
		if !r.kept {
			r.kept, out = true, append(out, Deed{Kind: Keep})
		}
		out = append(out, Deed{Kind: Act, Press: p})
	default:
		r.held, r.until = append(r.held, p), p.At.Add(Wait)
	}
	if len(r.runes) >= held && r.same() {
		out = append(out, r.release()...)
		r.runes, r.acted, r.first, r.kept = r.runes[:1], 1, p.At, false
	}
	return out
}

// Pause ends a run that is not a burst if the time since its last press is too long for one. Call it before each Press.
func (r *Run) Pause(now time.Time) []Deed {
	if r.burst || len(r.runes) == 0 || now.Sub(r.last) <= Gap {
		return nil
	}
	return r.stop()
}

// isBurst reports whether the run has enough characters, fast enough.
func (r *Run) isBurst() bool {
	n := len(r.runes)
	return n >= Least && r.last.Sub(r.first) <= time.Duration(n-1)*Average && !r.same()
}

// same reports whether all characters are equal, as from a held key.
func (r *Run) same() bool {
	for _, c := range r.runes {
		if c != r.runes[0] {
			return false
		}
	}
	return true
}

// more adds a press to a burst.
func (r *Run) more(p keys.Press, char rune, typed bool) []Deed {
	switch {
	case p.At.Sub(r.last) >= Silence:
		return append(r.over(p.At), r.Press(p, false)...)
	case typed:
		r.runes, r.last = append(r.runes, char), p.At
		return nil
	case separates(p):
		r.runes, r.last = append(r.runes, Separator), p.At
		return nil
	case p.Type == tea.KeyCtrlB && len(r.runes) == 0:
		r.last = p.At
		return nil
	}
	out := r.over(p.At)
	if ending(p) {
		return out
	}
	return append(out, r.Press(p, false)...)
}

// over ends the burst.
func (r *Run) over(at time.Time) []Deed {
	d := Deed{Kind: Scan, Text: string(r.runes), Typed: string(r.runes[r.acted:])}
	*r = Run{ended: at}
	if d.Text == "" {
		return nil
	}
	return []Deed{d}
}

// ends reports whether a press belongs to the end of the burst before, which may have two keys: CR LF, or ETX CR.
func (r *Run) ends(p keys.Press) bool {
	return !r.ended.IsZero() && ending(p) && p.At.Sub(r.ended) <= Tail
}

// stop ends a run that is not a burst; its waiting presses act.
func (r *Run) stop() []Deed {
	out := r.release()
	*r = Run{}
	return out
}

func (r *Run) release() []Deed {
	if len(r.held) == 0 {
		return nil
	}
	out := make([]Deed, len(r.held))
	for i, p := range r.held {
		out[i] = Deed{Kind: Act, Press: p}
	}
	r.held, r.kept, r.esc, r.acted = nil, false, false, len(r.runes) // presses that acted are not undone any more
	return out
}

// NoEsc drops a waiting esc: it was the first byte of an answer of the terminal.
func (r *Run) NoEsc() {
	if r.esc {
		r.held, r.esc = nil, false
	}
}

// Waits reports whether presses are waiting.
func (r *Run) Waits() bool { return len(r.held) > 0 }

// Until is when Due must be called; zero where nothing waits.
func (r *Run) Until() time.Time {
	switch {
	case r.burst:
		return r.last.Add(Silence)
	case len(r.held) > 0:
		return r.until
	}
	return time.Time{}
}

// Due returns what to do with presses that have waited long enough, or with a burst that is over.
func (r *Run) Due(now time.Time) []Deed {
	switch until := r.Until(); {
	case until.IsZero() || now.Before(until):
		return nil
	case r.burst:
		return r.over(now)
	}
	return r.release()
}
