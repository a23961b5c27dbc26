package entry

import (
	"time"

	"loosebox/tui/keys"
)

// erase limits a held or fast repeated backspace to the line that it erases: at the empty line it stops, and does not go
// back to or erase an earlier answer. A single backspace on an empty line goes back.
type erase struct {
	row  bool // the key before was a backspace too
	went bool // this row of backspaces went back to an earlier answer
	last time.Time
}

// slow is the time from which a backspace counts as a single press.
const slow = 400 * time.Millisecond

// blocks reports whether a backspace must do nothing; empty is whether the line has no letter to erase.
func (e *erase) blocks(p keys.Press, empty bool) bool {
	if !keys.TakeBack().Is(p) {
		*e = erase{}
		return false
	}
	gap := p.At.Sub(e.last)
	fast := e.row && gap > 0 && gap < slow
	if !fast {
		e.went = false
	}
	blocked := fast && (empty || e.went)
	e.row, e.last = true, p.At
	e.went = e.went || empty
	return blocked
}
