package join

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/layout"
)

// formLines is what the form takes below: its rows, a hint, the last line and what is said.
const formLines = 9

// beside are the two horses side by side, as many lines as there is room for; where they
// differ comes first where there is too little.
func (s *screen) beside(size layout.Size) []string {
	t := s.Deps.Theme
	one, other, names := s.horse, exam.Horse{}, [2]string{"this record", "other record"}
	if s.parting() {
		second := max(s.chosenRecord(), 1)
		one, other = s.horse.Joined[0], s.horse.Joined[second]
		for i, at := range []int{0, second} { // how much would be parted always has room
			names[i] = fmt.Sprintf("record %d: %s", at+1, notation.Counted(s.visitsOf[s.horse.Joined[at].ID], "visit"))
		}
	} else if h, err := s.find(s.other.Content()); err == nil {
		other = h
	}
	const label = 11
	wide := max((size.W-label-6)/2, 8)
	line := func(a, b, c string) string {
		return layout.Pad(a, label) + "  " + layout.Pad(b, wide) + "  " + layout.Pad(c, wide)
	}
	fields := settle.Beside(one, other)
	if !s.parting() && other.ID != "" { // how much would be joined always has room
		names = [2]string{"this one: " + notation.Counted(s.visitsOf[one.ID], "visit"), "other one: " + notation.Counted(s.visitsOf[other.ID], "visit")}
	}
	out := []string{t.Heading.Render(layout.Pad("  "+line("", names[0], names[1]), size.W))}
	for _, differ := range []bool{true, false} {
		for _, f := range fields {
			if f.Differ != differ || len(out) >= max(size.H-1, 2) {
				continue
			}
			text := layout.Cut(line(f.Label, f.One, f.Other), size.W)
			if f.Differ {
				text = t.Warn.Render(layout.Pad(t.Sign.Changed+" "+text, size.W))
			} else {
				text = "  " + text
			}
			out = append(out, layout.Cut(text, size.W))
		}
	}
	return append(out, "")
}

// chosenRecord is the record that is to be taken out, by its place.
func (s *screen) chosenRecord() int {
	for i, r := range s.horse.Joined {
		if string(r.ID) == s.which.Chosen() {
			return i
		}
	}
	return 0
}
