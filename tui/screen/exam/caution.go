package exam

import (
	"strings"

	"loosebox/tui/caution"
	"loosebox/tui/layout"
)

// banner is a caution in full over the whole width, at most two lines, for a low window, the first time in a visit that a
// step has it. The key for how shows it too.
func (s *screen) banner(size layout.Size) []string {
	if !s.told.First() || s.how || s.panel.kind != noPanel || !low(size) {
		return nil
	}
	return s.caution(s.told.Lines(size.W), size.W)
}

// drawCaution is what stands under the name of the step: a caution in full the first time, then one line: where a sign of
// the visit calls for a caution its line, else the step's own, else the first of the trade's.
func (s *screen) drawCaution(size layout.Size) []string {
	switch {
	case s.told.First() && low(size): // above, over the whole width
		return nil
	case s.told.First():
		return s.caution(s.told.Within(size.W, cautionRows), size.W)
	}
	text := s.step().Caution
	if text == "" && len(s.told.All) > 0 {
		text = s.told.All[0].Line
	}
	for _, c := range s.told.All {
		if c.When != nil {
			text = c.Line
			break
		}
	}
	if text == "" {
		return nil
	}
	return s.caution(caution.Marked(text, size.W), size.W)
}

// drawCautions are all of them in full, with the step's own, for the key of how it
// is done.
func (s *screen) drawCautions(width int) []string {
	var texts []string
	if own := s.step().Caution; own != "" {
		texts = append(texts, own)
	}
	for _, c := range s.told.All {
		texts = append(texts, strings.Join(c.Full, " "))
	}
	var lines []string
	for _, text := range texts {
		lines = append(lines, s.caution(caution.Marked(text, width), width)...)
	}
	return lines
}

func (s *screen) caution(lines []string, width int) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = s.Deps.Theme.Caution.Render(layout.Cut(line, width))
	}
	return out
}
