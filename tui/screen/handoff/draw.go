package handoff

import (
	"strings"

	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
)

// widest is the greatest width of the page in columns: longer lines are hard to read aloud.
const widest = 100

func (s *screen) draw(size layout.Size) string {
	if s.Saving() {
		return "saving .."
	}
	if s.told != nil && s.told.up {
		return strings.Join(s.drawTold(size), "\n")
	}
	if s.text == nil || s.width != size.W {
		s.text, s.width = s.pageLines(size.W), size.W
	}
	lines := s.text
	s.count, s.height = len(lines), max(size.H-1, 1)
	s.first = max(min(s.first, s.count-s.height), 0)
	out := append([]string(nil), lines[s.first:min(s.first+s.height, len(lines))]...)
	for len(out) < s.height {
		out = append(out, "")
	}
	out = append(out, s.Deps.Theme.Faint.Render(layout.Cut(s.where(), size.W)))
	return strings.Join(out[:min(len(out), max(size.H, 1))], "\n")
}

// where says how much of the page lies above and below.
func (s *screen) where() string {
	below := s.count - s.first - s.height
	switch {
	case below > 0 && s.first > 0:
		return "more above and below"
	case below > 0:
		return "more below: down or pgdn"
	case s.first > 0:
		return "end of the page"
	}
	return ""
}

// pageLines is the page with its headings in their style.
func (s *screen) pageLines(width int) []string {
	t := s.Deps.Theme
	lines := strings.Split(strings.TrimRight(s.page.Text(min(width, widest)), "\n"), "\n")
	lines = lines[min(1, len(lines)):] // the title says which horse it is
	for i, line := range lines {
		line = layout.Cut(clean(line), width)
		if line != "" && line[0] != ' ' && line == strings.ToUpper(line) {
			line = t.Heading.Render(line)
		}
		if word := ranges.LevelTell.String(); i == 0 && strings.Contains(line, ": "+word+" (") {
			line = strings.Replace(line, word, t.Word(ranges.LevelTell), 1)
		}
		lines[i] = line
	}
	return lines
}

// clean is notation.CleanNote for a line whose columns are kept.
func clean(line string) string {
	parts := strings.Split(line, "  ")
	for i, part := range parts {
		parts[i] = notation.CleanNote(part)
	}
	return strings.Join(parts, "  ")
}

// drawTold is the lines, over what is still asked by the page.
func (s *screen) drawTold(size layout.Size) []string {
	t := s.Deps.Theme
	var head []string
	say := "Read to the end? Ask the vet to repeat your question."
	if s.seen.Visit.Closed() {
		say = "The visit is closed; this is added later."
	}
	for _, line := range layout.Wrap(say, size.W) {
		head = append(head, t.Faint.Render(line))
	}
	for _, h := range s.seen.Visit.HandOffs {
		text := "handed off before: " + notation.Clock(h.At, s.Deps.Now()) + " to " + h.To + ", " + h.How.String()
		head = append(head, t.Faint.Render(layout.Cut(notation.CleanNote(text), size.W)))
	}
	head = head[:min(len(head), max(size.H/3, 0))]
	lines := append(append(head, ""), s.told.form.Lines(layout.Size{W: size.W, H: max(size.H-len(head)-1, 1)})...)
	return lines[:min(len(lines), max(size.H, 1))]
}
