package after

import (
	"strings"

	"loosebox/exam/after"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// Widths of the columns before the text: the state, and what the line is about.
const (
	stateWide = 7
	kindWide  = 13
)

func (s *screen) draw(size layout.Size) string {
	head := s.drawHead(size.W)
	foot := s.drawFoot(layout.Size{W: size.W, H: size.H / 2})
	room := max(size.H-len(head)-len(foot), 1)
	list, more := s.drawLines(layout.Size{W: size.W, H: room})
	head[len(head)-1] = layout.Ends(head[len(head)-1], s.Deps.Theme.Faint.Render(more), size.W)
	lines := append(head, list...)
	for len(lines) < len(head)+room {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

// drawHead says what comes before everything else, or how the exam stands.
func (s *screen) drawHead(width int) []string {
	t := s.Deps.Theme
	_, why, ok := nav.NeedleIn(s.seen.Visit, s.Deps.Now())
	if !ok {
		c := s.seen.Coverage
		if c.Answered == 0 {
			return []string{c.Level(s.seen.Verdict.Level)}
		}
		lead := "Highest level so far: "
		if width < 76 { // the count is never cut off
			lead = "So far: "
		}
		return []string{lead + t.Word(s.seen.Verdict.Level) + " (" + c.String() + ")"}
	}
	out := layout.Wrap(why+" First record what happened: enter.", width)
	for i := range out {
		out[i] = t.Caution.Render(out[i])
	}
	return out
}

// drawLines draws what is in sight of the list, and says where there is more. Where
// the window does not hold every line whole, only that under the cursor is.
func (s *screen) drawLines(size layout.Size) (lines []string, more string) {
	drawn, from, to := s.drawAll(size.W, true)
	if len(drawn) > size.H {
		drawn, from, to = s.drawAll(size.W, false)
	}
	s.cursor.Height = size.H
	s.first = layout.Window(s.first, to-1, len(drawn), size.H)
	s.first = layout.Window(s.first, from, len(drawn), size.H)
	lines = drawn[s.first:min(s.first+size.H, len(drawn))]
	switch above, below := s.first > 0, s.first+len(lines) < len(drawn); {
	case above && below:
		more = "more above and below"
	case above:
		more = "more above"
	case below:
		more = "more below"
	}
	return lines, more
}

// drawAll draws every line, whole or cut, and says where that under the cursor is.
func (s *screen) drawAll(width int, whole bool) (drawn []string, from, to int) {
	for i, l := range s.lines {
		lines := s.drawLine(i, l, width, whole)
		if i == s.cursor.Cursor {
			from, to = len(drawn), len(drawn)+len(lines)
		}
		drawn = append(drawn, lines...)
	}
	return drawn, from, to
}

func (s *screen) drawLine(i int, l after.Task, width int, whole bool) []string {
	t, here := s.Deps.Theme, i == s.cursor.Cursor
	style := t.Strong
	switch l.State {
	case after.Done:
		style = t.Good
	case after.Locked:
		style = t.Warn
	case after.Open:
	}
	point, word := "  ", layout.Pad(l.State.String(), stateWide)
	if here {
		point = t.Cursor.Render(t.Sign.Cursor + " ")
	}
	if l.Urgent {
		style = t.Alarm
	}
	indent := strings.Repeat(" ", 2+stateWide+kindWide)
	room := max(width-len(indent), 10)
	text, why := layout.Wrap(l.Text, room), []string{}
	switch {
	case l.Why == "":
	case i > 0 && s.lines[i-1].Why == l.Why && !here:
		why = []string{"for the same reason"}
	case here || whole:
		why = layout.Wrap(l.Why, room)
	default:
		why = []string{layout.Whole(l.Why, room)}
	}
	if len(text) == 0 {
		text = []string{""}
	}
	switch {
	case here:
		for k := range text {
			text[k] = t.Cursor.Render(text[k])
		}
	case !whole:
		text = []string{layout.Cut(notation.CleanNote(l.Text), room)}
	}
	out := []string{layout.Cut(point+style.Render(word)+layout.Pad(l.Kind.String(), kindWide)+text[0], width)}
	for _, line := range text[1:] {
		out = append(out, layout.Cut(indent+line, width))
	}
	for _, line := range why {
		out = append(out, layout.Cut(indent+t.Faint.Render(line), width))
	}
	return out
}

// drawFoot is the lines of a recheck, why a line is not opened, or nothing.
func (s *screen) drawFoot(size layout.Size) []string {
	t := s.Deps.Theme
	switch {
	case s.Saving():
		return []string{t.Across(size.W), "saving .."}
	case s.recheck != nil:
		return append([]string{t.Across(size.W)}, s.recheck.form.Lines(layout.Size{W: size.W, H: max(size.H-1, 1)})...)
	case s.said != "":
		out := []string{t.Across(size.W)}
		for _, line := range layout.Wrap("Locked; the line says why.", size.W) {
			out = append(out, t.Warn.Render(line))
		}
		return out[:min(len(out), max(size.H, 0))]
	}
	return nil
}
