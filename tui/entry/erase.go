package entry

import (
	"time"

	"loosebox/tui/keys"
)

// erase keeps a held backspace, or one that is pressed again and again, in the line that it erases: it stops where the line
// is empty, and an earlier answer is neither removed nor erased by it. A backspace of its own goes back.
type erase struct {
	row  bool // the key before was a backspace too
	went bool // this row of backspaces went back to an earlier answer
	last time.Time
}

// slow is the time after which a backspace is a press of its own.
const slow = 400 * time.Millisecond

// blocks says that a backspace does nothing here; empty says that there is no letter to erase.
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
