package exam

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/score"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// draw puts the order at the left and the step at the right; a blind rehearsal
// has no order to look at.
func (s *screen) draw(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	banner := s.banner(size.W)
	banner = banner[:min(len(banner), max(size.H-1, 0))]
	size.H -= len(banner)
	if s.origin.Open() {
		return strings.Join(append(banner, s.origin.Draw(s.Deps.Theme, size)), "\n")
	}
	if s.horse.blind() {
		return strings.Join(append(banner, layout.Fit(s.drawStep(size), size)...), "\n")
	}
	rail, body := size.Rail()
	left := s.drawOrder(layout.Size{W: rail, H: size.H})
	right := layout.Fit(s.drawStep(layout.Size{W: body, H: size.H}), layout.Size{W: body, H: size.H})
	rule := " " + s.Deps.Theme.Faint.Render(s.Deps.Theme.Sign.Bar) + " "
	return strings.Join(append(banner, layout.Beside(left, right, rule)...), "\n")
}

// drawOrder lists the steps in their order: done, not done, now, left.
func (s *screen) drawOrder(size layout.Size) []string {
	t := s.Deps.Theme
	cursor := s.now
	if s.panel.kind == orderPanel {
		cursor = s.panel.cursor
	}
	var lines []string
	row := 0
	for i, ask := range s.routine.Asks {
		if ask.Heading != "" {
			lines = append(lines, t.Heading.Render(layout.Pad(ask.Heading, size.W)))
		}
		if i == cursor {
			row = len(lines)
		}
		lines = append(lines, s.drawAsk(i, ask, i == cursor, size.W))
	}
	first := layout.Window(max(row-size.H/2, 0), row, len(lines), size.H)
	return layout.Fit(lines[first:], size)
}

func (s *screen) drawAsk(i int, ask exam.Ask, here bool, width int) string {
	t := s.Deps.Theme
	step, _ := s.Deps.Steps.ByID(ask.Step)
	left, passed := len(s.openIn(ask)), 0
	for _, k := range ask.Keys() {
		if f, ok := s.visit.Finding(k); ok && !f.Done() {
			passed++
		}
	}
	sign, style := t.Sign.Left, t.Faint
	switch {
	case left == 0 && passed == len(ask.Sites):
		sign = t.Sign.NotDone
	case left == 0:
		sign, style = t.Sign.Done, t.Good
	}
	point := " "
	if i == s.now {
		point = t.Sign.Now
	}
	if here {
		style = t.Cursor
		if s.panel.kind == orderPanel {
			point = t.Sign.Cursor
		}
	}
	text := step.Short
	if n := len(ask.Sites); left > 0 && left < n {
		text = fmt.Sprintf("%s %d/%d", step.Short, n-left, n)
	}
	return style.Render(layout.Pad(point+" "+sign+" "+text, width))
}

// leastField is the room that the entry field gets beside a simulated horse
// before the range has to go.
const leastField = 8

// leastDigits is the room that a count needs for its large digits and what stands under them.
const leastDigits = 8

// mostSaid is how many lines the remark takes at most; one less beside a simulated
// horse in a body lower than smallBody.
// What is known so far takes mostSoFar lines at most; its source shows it whole.
const (
	mostSaid  = 3
	mostSoFar = 2
	smallBody = 17
)

// drawStep is the right side: what is asked, its range, its last values, the
// field, and under it what was said of the answer before.
func (s *screen) drawStep(size layout.Size) []string {
	t, step := s.Deps.Theme, s.step()
	if s.panel.kind == nextPanel {
		return s.drawNext(size)
	}
	if ask := s.horse.question(size); ask != nil && s.panel.kind == noPanel {
		return ask
	}
	head := []string{t.Strong.Render(layout.Cut(step.Name, size.W))}
	if s.field.Site() != exam.NoSite && len(s.ask().Sites) == 1 {
		head[0] = t.Strong.Render(layout.Cut(step.Name+", "+s.field.Site().String(), size.W))
	}
	head = append(head, s.drawLeg(size)...)
	if _, _, ok := nav.NeedleIn(s.visit); ok {
		for _, line := range layout.Wrap("! A needle is in: p, and say what happened to it.", size.W) {
			head = append(head, t.Caution.Render(line))
		}
	}
	most := mostSaid
	if s.horse.Patient != nil && size.H < smallBody {
		most--
	}
	foot := s.drawSaid(size.W, most)
	saved := s.drawRest(size.W, size.H/2)
	if s.how && saved == nil && !s.horse.blind() {
		head = append(append(head, s.drawCautions(size.W)...), s.horse.lines(size)...)
		return s.drawWithField(size, append(head, s.drawHow(size)...), foot)
	}
	head = append(head, s.drawCaution(size.W)...)
	if !s.field.Asks() { // about its taps: nothing is listened to then
		head = append(head, s.horse.lines(size)...)
	}
	beside := s.beside(size)
	if step.Kind == exam.KindCount && s.horse.Patient == nil {
		beside, foot = s.forDigits(size, len(head)+1, beside, foot)
	}
	if saved != nil { // until the next key
		beside, foot = nil, saved
	}
	more := slices.Concat(beside...)
	if s.horse.Patient == nil || s.how || size.H-len(head)-len(more)-len(foot) > leastField {
		head = append(head, more...)
	}
	return s.drawWithField(size, head, foot)
}

// beside are the blocks of lines that an answer is set beside, what matters most first.
func (s *screen) beside(size layout.Size) [][]string {
	out := [][]string{s.drawRange(size.W)}
	for _, line := range s.drawLast(size.W) {
		out = append(out, []string{line})
	}
	var soFar []string
	if text := score.SoFar(s.visit, s.step().ID); text != "" {
		for _, line := range layout.WrapTo(text, size.W, mostSoFar) {
			soFar = append(soFar, s.Deps.Theme.Strong.Render(line))
		}
	}
	return append(out, soFar, s.drawHow(size))
}

// forDigits leaves a count the lines for digits that are read from across the box: what stands last goes first, then all
// but one line of what was said before. All of it is under s.
func (s *screen) forDigits(size layout.Size, taken int, beside [][]string, foot []string) (fewer [][]string, said []string) {
	room := func() int { return size.H - taken - len(slices.Concat(beside...)) - len(foot) }
	for len(beside) > 1 && room() < leastDigits {
		beside = beside[:len(beside)-1]
	}
	if len(foot) > 1 && room() < leastDigits {
		foot = s.drawSaid(size.W, 1)
	}
	if room() < leastDigits {
		beside = nil
	}
	return beside, foot
}

// drawWithField puts the field between what stands above it and below it; it keeps
// three lines whatever the rest needs.
func (s *screen) drawWithField(size layout.Size, head, foot []string) []string {
	head = append(head, "")
	room := max(size.H-len(head)-len(foot), 3)
	if over := len(head) + room + len(foot) - size.H; over > 0 {
		head = head[:max(len(head)-over, 1)]
	}
	field := s.drawField(layout.Size{W: size.W, H: room})
	if len(field) > room {
		field = field[:room]
	}
	for len(field) < room {
		field = append(field, "")
	}
	return append(append(head, field...), foot...)
}

func (s *screen) drawField(size layout.Size) []string {
	t := s.Deps.Theme
	switch s.panel.kind {
	case reasonPanel:
		lines := []string{t.Strong.Render("Not done: why?")}
		if s.panel.many {
			which := "this site only"
			if s.panel.every {
				which = fmt.Sprintf("all %d open sites", len(s.openKeys()))
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

// drawSaid is the line about the answer before, over a rule.
func (s *screen) drawSaid(width, most int) []string {
	t := s.Deps.Theme
	if s.Saving() {
		return []string{t.Faint.Render("storing ..")}
	}
	if s.said == "" {
		return nil
	}
	word := ""
	if s.level > 0 {
		word = strings.ToUpper(s.level.String()) + " "
	}
	call := ""
	if s.level >= ranges.LevelTell && s.horse.Patient == nil {
		call = s.Deps.Settings.Call()
	}
	if call != "" {
		most = max(most-1, 1)
	}
	lines := layout.WrapTo(word+s.said, width, most)
	if call != "" {
		lines = append(lines, layout.Cut(call, width))
	}
	for i := range lines {
		lines[i] = t.Level(s.level).Render(lines[i])
	}
	return lines
}

// drawHow shows how the step is done: always before the first answer of a step
// in a window with room, else on demand.
func (s *screen) drawHow(size layout.Size) []string {
	if !s.how && size.H < 26 || s.horse.blind() {
		return nil
	}
	t := s.Deps.Theme
	var lines []string
	for _, how := range s.step().How {
		for _, line := range layout.Wrap(how, size.W) {
			lines = append(lines, t.Faint.Render(line))
		}
	}
	return lines
}
