package exam

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

// area is a stretch of the routine that is asked at one place round the horse.
type area struct {
	name      string
	from, n   int // asks
	done, all int // places with an answer or a reason, and all
}

// open are the places of the visit without an answer.
func (s *screen) open() map[exam.Key]bool {
	left := s.visit.Left(s.routine)
	out := make(map[exam.Key]bool, len(left))
	for _, k := range left {
		out[k] = true
	}
	return out
}

// areas are the routine's, each with how much of it is done.
func (s *screen) areas(open map[exam.Key]bool) []area {
	var out []area
	for i, ask := range s.routine.Asks {
		if i == 0 || ask.Heading != "" {
			out = append(out, area{name: ask.Heading, from: i})
		}
		a := &out[len(out)-1]
		a.n++
		for _, k := range ask.Keys() {
			a.all++
			if !open[k] {
				a.done++
			}
		}
	}
	return out
}

// fold is how much of the order is summarised to keep the screen short; each value includes those before it.
type fold int

const (
	foldNothing fold = iota
	foldLater        // the areas after the next one
	foldDone         // the areas before
	foldEarlier      // the steps of this area before the cursor
	foldRest         // the steps of this area after the next
)

// drawOrder lists the areas of the routine, each with how much of it is done, and the steps of the area of the cursor under
// its name. Parts are summarised until it has at most most words.
func (s *screen) drawOrder(size layout.Size, most int) []string {
	open := s.open()
	areas := s.areas(open)
	for f := foldNothing; ; f++ {
		lines := s.folded(size, f, areas, open)
		if f == foldRest || s.panel.kind == orderPanel || words(lines) <= most {
			return lines
		}
	}
}

func (s *screen) folded(size layout.Size, f fold, areas []area, open map[exam.Key]bool) []string {
	cursor := s.now
	if s.panel.kind == orderPanel {
		cursor = s.panel.cursor
	}
	at := 0
	for i, a := range areas {
		if cursor >= a.from {
			at = i
		}
	}
	var lines []string
	row := 0
	for i := 0; i < len(areas); i++ {
		a := areas[i]
		if n := s.together(f, areas, i, at); n > 1 {
			lines, i = append(lines, s.several(i < at, n, "area", size.W)), i+n-1
			continue
		}
		if a.name != "" {
			lines = append(lines, s.drawArea(a, i == at, size.W))
		}
		if i == at || a.name == "" {
			asks, here := s.drawAsks(f, a, cursor, open, size.W)
			if i == at {
				row = len(lines) + here
			}
			lines = append(lines, asks...)
		}
	}
	top := layout.Window(max(row-size.H/2, 0), row, len(lines), size.H)
	return layout.Fit(lines[top:], size)
}

// together is how many areas from i on are drawn as one line.
func (s *screen) together(f fold, areas []area, i, at int) int {
	n := 0
	switch {
	case i < at && f >= foldDone:
		for i+n < at && areas[i+n].done == areas[i+n].all {
			n++
		}
	case i > at+1 && f >= foldLater:
		n = len(areas) - i
	}
	return n
}

// several is a line for things that are drawn together: those that are done, or those that are still to come.
func (s *screen) several(done bool, n int, what string, width int) string {
	t := s.Deps.Theme
	if done {
		return t.Good.Render(layout.Pad(t.Sign.Done+" "+notation.Counted(n, what), width))
	}
	return t.Faint.Render(layout.Pad(fmt.Sprintf("  %d more %ss", n, what), width))
}

// drawAsks are the steps of an area, and which of the lines is that of the cursor.
func (s *screen) drawAsks(f fold, a area, cursor int, open map[exam.Key]bool, width int) (lines []string, row int) {
	asks := s.routine.Asks[a.from : a.from+a.n]
	here := cursor - a.from
	first, last := 0, len(asks)
	if f >= foldEarlier && !s.atLeg() {
		for first < here && len(s.openIn(asks[first])) == 0 {
			first++
		}
		if first < 2 {
			first = 0
		}
	}
	if f >= foldRest && here+3 < last && !s.atLeg() {
		last = here + 2
	}
	if first > 0 {
		lines = append(lines, "  "+s.several(true, first, "step", width-2))
	}
	for i := first; i < last; i++ {
		if i == here {
			row = len(lines)
		}
		lines = append(lines, s.drawAsk(a.from+i, asks[i], i == here, open, width))
	}
	if last < len(asks) {
		lines = append(lines, "  "+s.several(false, len(asks)-last, "step", width-2))
	}
	return lines, row
}

func (s *screen) drawArea(a area, here bool, width int) string {
	t := s.Deps.Theme
	sign, style := " ", t.Faint
	if a.done == a.all {
		sign, style = t.Sign.Done, t.Good
	}
	if here {
		style = t.Heading
	}
	much := ""
	if here || a.done > 0 && a.done < a.all { // of the others the sign says it
		much = fmt.Sprintf("%d/%d", a.done, a.all)
	}
	return style.Render(layout.Ends(sign+" "+a.name, much, width))
}

func (s *screen) drawAsk(i int, ask exam.Ask, here bool, open map[exam.Key]bool, width int) string {
	t := s.Deps.Theme
	step, _ := s.Deps.Steps.ByID(ask.Step)
	left, passed := 0, 0
	for _, k := range ask.Keys() {
		if open[k] {
			left++
		} else if f, ok := s.visit.Finding(k); ok && !f.Done() {
			passed++
		}
	}
	sign, style := " ", t.Faint
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
	return style.Render(layout.Pad(" "+point+sign+" "+text, width))
}

// Progress draws the areas of the exam as a bar: each as wide as it has places, the part that is done filled.
func (s *screen) Progress(width int) string {
	if !s.Loaded || s.horse.blind() {
		return ""
	}
	t, areas := s.Deps.Theme, s.areas(s.open())
	cells := width - len(areas) + 1 // one blank between two areas
	if s.total == 0 || cells < len(areas) {
		return ""
	}
	wide, used := make([]int, len(areas)), 0
	for i, a := range areas {
		wide[i] = max(1, a.all*cells/s.total)
		used += wide[i]
	}
	for ; used > cells; used-- { // the small ones have at least a cell
		wide[slices.Index(wide, slices.Max(wide))]--
	}
	parts := make([]string, len(areas))
	for i, a := range areas {
		full := wide[i] * a.done / a.all
		style := t.Faint
		if s.now >= a.from && s.now < a.from+a.n {
			style = t.Heading
		}
		parts[i] = t.Good.Render(strings.Repeat(t.Sign.Full, full)) + style.Render(strings.Repeat(t.Sign.Empty, wide[i]-full))
	}
	return strings.Join(parts, " ")
}
