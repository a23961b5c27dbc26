package exam

import (
	"strings"

	"loosebox/tui/layout"
)

// banner is a caution of the trade in full, over the whole width, the first time
// in a visit that a step has it; at most two lines. The key of how has it too.
func (s *screen) banner(width int) []string {
	if !s.told.First() || s.how || s.panel.kind != noPanel {
		return nil
	}
	return s.caution(s.told.Lines(width), width)
}

// drawCaution is what stands above the step: where a sign of the visit calls for a
// caution its line, else the step's own, else the first of the trade's. While one is
// shown in full above, none.
func (s *screen) drawCaution(width int) []string {
	if s.told.First() {
		return nil
	}
	for _, c := range s.told.All {
		if c.When != nil {
			return s.caution(layout.Wrap("! "+c.Line, width), width)
		}
	}
	text := s.step().Caution
	if text == "" && len(s.told.All) > 0 {
		text = s.told.All[0].Line
	}
	if text == "" {
		return nil
	}
	return s.caution(layout.Wrap("! "+text, width), width)
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
		lines = append(lines, s.caution(layout.Wrap("! "+text, width), width)...)
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
