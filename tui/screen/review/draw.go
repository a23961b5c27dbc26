package review

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/tui/chart"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

func (s *screen) draw(size layout.Size) string {
	t := s.Deps.Theme
	if s.origin.Open() {
		return s.origin.Draw(t, size)
	}
	foot := s.drawMore(size.W)
	if s.closing {
		foot = s.drawClosing(size.W)
	}
	if s.untold {
		foot = s.drawUntold(size.W)
	}
	if s.stuck {
		foot = s.drawStuck(size.W)
	}
	most := size.H / 2
	if s.closing || s.untold || s.stuck { // a question shows every answer
		most = max(size.H-3, 1)
	}
	if len(foot) > most {
		foot = foot[:most]
	}
	room := size.H - len(foot)
	s.first = layout.Window(s.first, s.cursor, len(s.lines), room)
	out := make([]string, 0, size.H)
	for i := s.first; i < len(s.lines) && len(out) < room; i++ {
		l := s.lines[i]
		switch {
		case l.head && l.level > 0:
			out = append(out, t.Limit(l.level).Bold(t.Name != theme.Plain).Render(layout.Cut(l.text, size.W)))
		case l.head:
			out = append(out, t.Heading.Render(layout.Cut(l.text, size.W)))
		default:
			out = append(out, s.drawRow(l, i == s.cursor, size.W))
		}
	}
	for len(out) < room {
		out = append(out, "")
	}
	return strings.Join(append(out, foot...), "\n")
}

// sparkWide is the most numbers of the past beside a remark.
const sparkWide = 10

// drawRow is a line under a heading; at the right of a remark stand what is usual and the horse's past, where there is room.
func (s *screen) drawRow(l line, here bool, width int) string {
	t := s.Deps.Theme
	text, right := theme.Mark(l.level)+" "+l.text, strings.TrimSpace(l.usual+"  "+chart.Spark(t, l.past, sparkWide))
	if ansi.StringWidth(text)+ansi.StringWidth(right)+5 > width {
		right = ""
	}
	switch {
	case here:
		return t.Cursor.Render(layout.Ends(t.Sign.Cursor+" "+text, right, width))
	case l.level > 0:
		sign, words, _ := strings.Cut(text, " ")
		return layout.Ends("  "+t.Level(l.level).Render(sign)+" "+t.Limit(l.level).Render(words), t.Faint.Render(right), width)
	}
	return layout.Cut("  "+text, width)
}

// beside is what is usual at a place, and the numbers of the horse's past there with this one, oldest first.
func (s *screen) beside(k exam.Key) (usual string, past []float64) {
	step, ok := s.Deps.Steps.ByID(k.Step)
	if !ok || step.Range == "" {
		return "", nil
	}
	text, ok := s.Deps.Judge.Range(s.Visit.Class(), step, step.Prefer(s.Deps.Settings.Units))
	if !ok {
		return "", nil
	}
	for i := len(s.Earlier) - 1; i >= -1; i-- {
		v := s.Visit
		if i >= 0 {
			v = s.Earlier[i]
		}
		if f, ok := v.Finding(k); ok && f.Done() {
			if n, ok := f.Value.In(text.Unit); ok {
				past = append(past, n)
			}
		}
	}
	return "usual " + text.Usual, past
}

// drawMore is what is known of the line under the cursor.
func (s *screen) drawMore(width int) []string {
	t := s.Deps.Theme
	if s.Saving() {
		return []string{t.Across(width), "saving .."}
	}
	if s.cursor >= len(s.lines) || len(s.lines[s.cursor].more)+len(s.lines[s.cursor].was) == 0 {
		return nil
	}
	l := s.lines[s.cursor]
	out := []string{t.Across(width)}
	if l.level > 0 {
		out = append(out, t.Word(l.level))
	}
	for i, text := range l.more {
		lines := layout.Wrap(text, width)
		if i > 0 && len(lines) > 1 { // the whole source on demand
			lines = []string{layout.Cut(text, width)}
		}
		out = append(out, lines...)
	}
	for _, text := range l.was {
		out = append(out, layout.Wrap(text, width)...)
	}
	return out
}

// drawStuck says why the visit is not closed, and the way on.
func (s *screen) drawStuck(width int) []string {
	t := s.Deps.Theme
	_, why, must := nav.Unfinished(s.Visit, s.Deps.Now())
	if !must {
		_, why, _ = nav.Unwatched(s.Visit)
		out := []string{t.Across(width)}
		for _, line := range layout.Wrap(why+" Close it anyway?", width) {
			out = append(out, t.Strong.Render(line))
		}
		return append(out, t.Faint.Render(layout.Cut("enter goes there: start or decline it. f closes anyway.", width)))
	}
	out := []string{t.Across(width)}
	for _, line := range layout.Wrap("The visit stays open. "+why, width) {
		out = append(out, t.Strong.Render(line))
	}
	return append(out, t.Faint.Render("enter goes there, esc stays here."))
}

func (s *screen) drawClosing(width int) []string {
	t := s.Deps.Theme
	if len(s.Left) == 0 {
		return append([]string{
			t.Across(width),
			t.Strong.Render(s.Visit.NothingLeft() + " enter closes the visit, esc goes back."),
		}, s.locks(width)...)
	}
	out := append([]string{
		t.Across(width),
		t.Strong.Render(s.leftWords()),
		t.Faint.Render("esc goes back to the exam."),
	}, s.locks(width)...)
	for i, r := range exam.Reasons()[:4] {
		text := fmt.Sprintf("  %d %s", i+1, r)
		if i == s.reason {
			text = t.Cursor.Render(fmt.Sprintf("%s %d %s", t.Sign.Cursor, i+1, r))
		}
		out = append(out, text)
	}
	return out
}

// locks says what closing locks; a rehearsal has nothing to do after it.
func (s *screen) locks(width int) []string {
	if s.Deps.Patient != nil {
		return nil
	}
	var out []string
	for _, l := range layout.Wrap(after.Locks(s.Deps.Following(s.Judged, s.Deps.Settings, s.Deps.Now())), width) {
		out = append(out, s.Deps.Theme.Faint.Render(l))
	}
	return out
}

// leftWords asks why what is left was not done.
func (s *screen) leftWords() string {
	if len(s.Left) == 1 {
		return "1 step has no answer. Choose the reason; enter closes."
	}
	return fmt.Sprintf("%d steps have no answer. Choose one reason; enter closes.", len(s.Left))
}
