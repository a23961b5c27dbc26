package home

import (
	"fmt"
	"time"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

// held is a visit that a colleague has open on another laptop, in the words of its row.
type held struct{ horse, by, since, more string }

func heldBy(v exam.Visit, now time.Time) *held {
	l, ok := v.Holder()
	if !ok {
		return nil
	}
	since, seen := l.Span(now)
	return &held{
		horse: notation.CleanLine(v.Horse.Name, 0), by: notation.CleanLine(v.HolderName(), 0),
		since: " has it since " + since, more: fmt.Sprintf(", on %s, last seen %s", l.Called(), seen),
	}
}

// line is the row in a width: who has the horse and since when stand whole, before what is cut.
func (h held) line(width int) string {
	room := max(width-ansi.StringWidth(h.since+": .."), 2)
	by := layout.Cut(h.by, max(room-ansi.StringWidth(h.horse), room/2))
	return layout.Cut(h.horse, room-ansi.StringWidth(by)) + ": " + by + h.since + h.more
}
