package compare

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// foot is what is said of the finding under the cursor, and the legend. Its
// height does not change from row to row, so that the table stands still.
func (s *screen) foot(size layout.Size, last int) []string {
	t := s.Deps.Theme
	height := 3
	texts := []string{s.detail.value, s.detail.why, s.detail.change}
	if size.H >= 18 {
		height = 4
	}
	var lines []string
	for _, text := range texts {
		lines = append(lines, layout.Wrap(notation.CleanNote(text), size.W)...)
	}
	if len(lines) > height {
		lines = append(lines[:height-1], layout.Cut(lines[height-1], size.W-3)+" ..")
	}
	lines = layout.Fit(lines, layout.Size{W: size.W, H: height})
	legend := fmt.Sprintf("%s %s  %s %s  %s %s  %s not done  %s real change",
		theme.Mark(ranges.LevelNote), ranges.LevelNote, theme.Mark(ranges.LevelRecheck), ranges.LevelRecheck, theme.Mark(ranges.LevelTell), ranges.LevelTell, t.Sign.NotDone, t.Sign.Changed)
	if size.W < 76 {
		legend = fmt.Sprintf("%s note %s recheck %s tell %s not done %s changed",
			theme.Mark(ranges.LevelNote), theme.Mark(ranges.LevelRecheck), theme.Mark(ranges.LevelTell), t.Sign.NotDone, t.Sign.Changed)
	}
	count := fmt.Sprintf("%d-%d of %d", s.first+1, last, len(s.table.Columns))
	return append(append([]string{t.Across(size.W)}, lines...), t.Faint.Render(layout.Ends(legend, count, size.W)))
}
