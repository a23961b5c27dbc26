package exam

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// draw puts the order at the left and the step at the right; a blind rehearsal
// has no order to look at.
func (s *screen) draw(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	banner := s.banner(size)
	banner = banner[:min(len(banner), max(size.H-1, 0))]
	size.H -= len(banner)
	if s.horse.blind() {
		return strings.Join(append(banner, layout.Fit(s.drawStep(size, false), size)...), "\n")
	}
	rail, body := size.Rail()
	left, right := s.drawBoth(layout.Size{W: rail, H: size.H}, layout.Size{W: body, H: size.H})
	right = layout.Fit(right, layout.Size{W: body, H: size.H})
	rule := " " + s.Deps.Theme.Faint.Render(s.Deps.Theme.Sign.Bar) + " "
	return strings.Join(append(banner, layout.Beside(left, right, rule)...), "\n")
}

// Lines of the right side that keep their place from step to step: the caution under the name; the remark at the bottom,
// above it the last values, above those the range. The widget has the lines between.
const (
	cautionRows = 3
	saidRows    = 3
	lowSaidRows = 2
)

// low says that a body has no room for lines that are kept empty.
func low(size layout.Size) bool { return size.H < 17 }

// The least lines for the widget; range and last values are left out first. For any widget, beside a simulated horse, and
// for a count, whose large digits are read from a distance.
const (
	leastAnswer = 4
	leastField  = 8
	leastDigits = 8
)

// drawStep is the right side: the name of the step, its caution, the widget, and under it range, last values and the remark
// about the answer before. Brief leaves out what the person knows already.
func (s *screen) drawStep(size layout.Size, brief bool) []string {
	if s.panel.kind == nextPanel {
		return s.drawNext(size)
	}
	if ask := s.horse.question(size); ask != nil && s.panel.kind == noPanel {
		return ask
	}
	saved := s.drawRest(size.W, size.H/2) // until the next key
	if s.how && saved == nil && !s.horse.blind() {
		head := append(s.drawTitle(size.W), s.drawCautions(size.W)...)
		head = append(append(head, s.horse.lines(size)...), s.drawHow(size.W)...)
		return s.drawWithField(size, append(head, ""), nil, s.drawSaid(size.W, saidRows))
	}
	head := append(s.drawTitle(size.W), s.drawCaution(size)...)
	head = fill(head, 2)
	if s.horse.Patient == nil && !low(size) {
		head = fill(head, 1+cautionRows)
	}
	if !s.field.Asks() { // about its taps: nothing is listened to then
		head = append(append(head, s.horse.lines(size)...), s.drawLeg(size)...)
	}
	if saved != nil {
		return s.drawWithField(size, head, nil, saved)
	}
	rows := saidRows
	if low(size) {
		rows = lowSaidRows
	}
	said, next := s.drawSaid(size.W, rows), ""
	if brief && (s.plain || s.level > 0) { // the review has the reason too; what is for the veterinarian is not cut
		said = s.drawSaid(size.W, 1)
	}
	if !low(size) && !brief {
		next = s.drawNextName(size.W)
	}
	at, most := s.beside(size), rows
	room := func() int { return size.H - len(head) - len(at.all()) - max(len(said), most) }
	for _, part := range []*[]string{&at.how, &at.evidence, &at.usual, &at.last, &at.soFar} {
		if room() < s.least() {
			*part = nil
		}
	}
	if room() < s.least() {
		most = 0
	}
	if room() < s.least() {
		said = s.drawSaid(size.W, 1)
	}
	if room() < s.least() {
		at.scale = nil
	}
	if next != "" && len(said) < most {
		said = append(fill(said, most-1), next)
	}
	return s.drawWithField(size, head, at.all(), fill(said, most))
}

// least is the least lines for the widget.
func (s *screen) least() int {
	switch {
	case s.horse.Patient != nil:
		return leastField
	case s.step().Kind == exam.KindCount:
		return leastDigits
	}
	return leastAnswer
}

// fill adds empty lines up to a number of lines.
func fill(lines []string, n int) []string {
	for len(lines) < n {
		lines = append(lines, "")
	}
	return lines
}

// drawTitle is the name of the step, with its site where there is one alone, and what must not be forgotten beside it.
func (s *screen) drawTitle(width int) []string {
	t, name := s.Deps.Theme, s.step().Name
	if s.field.Site() != exam.NoSite && len(s.ask().Sites) == 1 {
		name = s.placeName()
	}
	out := []string{t.Strong.Render(layout.Cut(name, width))}
	if _, _, in := nav.NeedleIn(s.visit, s.Deps.Now()); in {
		for _, line := range layout.Wrap("A needle is in: p, and record what happened to it.", width) {
			out = append(out, t.Caution.Render(line))
		}
	}
	return out
}

// drawWithField puts the field between what stands above it and below it; it keeps
// three lines whatever the rest needs.
func (s *screen) drawWithField(size layout.Size, head, beside, said []string) []string {
	room := max(size.H-len(head)-len(beside)-len(said), 3)
	if over := len(head) + room + len(beside) + len(said) - size.H; over > 0 {
		head = head[:max(len(head)-over, 1)]
	}
	field := s.drawField(layout.Size{W: size.W, H: room})
	if len(field) > room {
		field = field[:room]
	}
	return slices.Concat(head, fill(field, room), beside, said)
}

func (s *screen) drawField(size layout.Size) []string {
	t := s.Deps.Theme
	switch s.panel.kind {
	case reasonPanel:
		lines := []string{t.Strong.Render("Not done: why?")}
		if s.panel.many {
			which := "this site only"
			if s.panel.every {
				which = fmt.Sprintf("all %d sites to do", len(s.openKeys()))
			}
			lines = append(lines, t.Faint.Render("for "+which+" (left/right changes)"))
		}
		for i, r := range exam.Reasons() {
			line := fmt.Sprintf("  %d %s", i+1, r)
			if i == s.panel.cursor {
				line = t.Cursor.Render(fmt.Sprintf("%s %d %s", t.Sign.Cursor, i+1, r))
			}
			lines = append(lines, line)
		}
		return lines
	case whyPanel:
		return s.drawWhy(size)
	case notePanel:
		return append([]string{t.Strong.Render(layout.Cut(s.panel.title, size.W))}, s.panel.text.View(layout.Size{W: size.W, H: size.H - 1})...)
	case orderPanel:
		return []string{"Choose a step at the left: up/down, enter goes", "there, esc stays here."}
	case nextPanel, noPanel:
	}
	return s.field.View(size)
}
