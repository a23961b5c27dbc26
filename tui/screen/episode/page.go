package episode

import (
	"fmt"
	"time"

	"loosebox/exam/compare"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Widths of the table: the name of a finding, and one check.
const (
	nameWide = 24
	cellWide = 11
)

// Page is the episode as lines of at most so many columns, for the screen and for the
// command: the oldest check at the left.
func Page(e episode.Episode, t *theme.Theme, width int, now time.Time) []string {
	lines := next(e, t, width, now)
	lines = append(lines, turns(e, t, width)...)
	lines = append(lines, medicines(e, t, width, now)...)
	return append(lines, table(e, t, width, now)...)
}

// next says when the next check is due.
func next(e episode.Episode, t *theme.Theme, width int, now time.Time) []string {
	if e.Next == nil {
		return wrapped("No next check is set. Press a to begin one.", width)
	}
	at := e.Next.Time.In(now.Location())
	text := fmt.Sprintf("Next check at %s, in %s.", at.Format("15:04"), notation.Span(at.Sub(now)))
	if at.Format(notation.DayForm) != now.Format(notation.DayForm) {
		text = fmt.Sprintf("Next check on %s.", at.Format("2 Jan at 15:04"))
	}
	if late := now.Sub(at); late >= 0 {
		text = fmt.Sprintf("[DUE %s] The next check is %s late.", at.Format("15:04"), notation.Span(late))
		if late < time.Minute {
			text = fmt.Sprintf("[DUE %s] The next check is due now.", at.Format("15:04"))
		}
		return styled(wrapped(text, width), t.Warn.Render)
	}
	return styled(wrapped(text, width), t.Strong.Render)
}

// turns are the findings that changed since the previous check, in words.
func turns(e episode.Episode, t *theme.Theme, width int) []string {
	if len(e.Table.Columns) < 2 {
		return nil
	}
	lines := []string{t.Heading.Render(layout.Pad("changed since the check before, beyond normal variation", width))}
	for _, turn := range e.Turns {
		mark := theme.Mark(turn.Level) + " "
		for i, l := range wrapped(notation.CleanLine(turn.Words(), 0), width-2) {
			if i > 0 {
				mark = "  "
			}
			lines = append(lines, t.Level(turn.Level).Render(mark+l))
		}
	}
	if len(e.Turns) == 0 {
		lines = append(lines, "  nothing")
	}
	return lines
}

func medicines(e episode.Episode, t *theme.Theme, width int, now time.Time) []string {
	lines := []string{t.Heading.Render(layout.Pad("medicine", width))}
	for _, g := range e.Given {
		text := notation.Clock(g.At, now) + " " + g.Words + ", by " + g.By
		if g.Said {
			text = "said at " + notation.Clock(g.At, now) + ": " + g.Words
		}
		for _, l := range wrapped(notation.CleanLine(text, 0), width-2) {
			lines = append(lines, "  "+l)
		}
	}
	if len(e.Given) == 0 {
		lines = append(lines, "  none in these checks")
	}
	return lines
}

// table is the checks that fit, the newest at the right.
func table(e episode.Episode, t *theme.Theme, width int, now time.Time) []string {
	n := min(len(e.Table.Columns), max((width-nameWide)/cellWide, 1))
	head := layout.Pad("checks of "+e.Table.Columns[n-1].At.In(now.Location()).Format("2 Jan"), nameWide)
	for i := n - 1; i >= 0; i-- {
		head += layout.Pad(stamp(e.Table.Columns, i, now), cellWide)
	}
	lines := []string{t.Heading.Render(layout.Pad(layout.Cut(head, width), width))}
	if left := len(e.Table.Columns) - n; left > 0 {
		lines = append(lines, t.Faint.Render(layout.Cut(fmt.Sprintf("  %s before them; c compares all", notation.Counted(left, "check")), width)))
	}
	for i := range e.Table.Rows {
		if r := &e.Table.Rows[i]; answered(r, n) {
			lines = append(lines, row(r, n, t, width))
		}
	}
	return lines
}

// stamp is the time of a check, with its day where the check before is of another one.
func stamp(columns []compare.Column, i int, now time.Time) string {
	at := columns[i].At.In(now.Location())
	switch {
	case i < len(columns)-1 && !notation.SameDay(columns[i+1].At, at):
		return at.Format("2Jan 15:04")
	case columns[i].Open:
		return at.Format("15:04 open")
	}
	return "  " + at.Format("15:04")
}

func answered(r *compare.StepRow, n int) bool {
	for _, c := range r.Cells[:n] {
		if !c.Empty && c.NotDone == "" {
			return true
		}
	}
	return false
}

func row(r *compare.StepRow, n int, t *theme.Theme, width int) string {
	name := notation.CleanLine(episode.Named(r), 0)
	if r.Unit != notation.NoUnit && r.Unit != notation.Points {
		name = layout.Cut(name, nameWide-2-len(r.Unit)) + " " + string(r.Unit)
	}
	line := layout.Pad(layout.Cut(name, nameWide-1), nameWide)
	for i := n - 1; i >= 0; i-- {
		c := r.Cells[i]
		text := "  " + notation.CleanLine(c.Text, 0)
		switch {
		case c.Empty:
			text = ""
		case c.NotDone != "":
			text = "x not done"
		case c.Level > ranges.LevelUsual:
			text = theme.Mark(c.Level) + " " + notation.CleanLine(c.Text, 0)
		}
		line += t.Level(c.Level).Render(layout.Pad(layout.Cut(text, cellWide-1), cellWide))
	}
	return layout.Cut(line, width)
}

func wrapped(text string, width int) []string { return layout.Wrap(text, width) }

func styled(lines []string, render func(...string) string) []string {
	for i := range lines {
		lines[i] = render(lines[i])
	}
	return lines
}
