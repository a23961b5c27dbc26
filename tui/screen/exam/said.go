package exam

import (
	"strings"

	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// drawSaid is the remark about the answer before: sign, level and reason, in at most most lines. A tell-the-vet remark is
// never cut, and the telephone number is below it.
func (s *screen) drawSaid(width, most int) []string {
	t := s.Deps.Theme
	if s.Saving() {
		return []string{t.Faint.Render("saving ..")}
	}
	if s.said == "" {
		return nil
	}
	word, call := "", ""
	switch {
	case s.level >= ranges.LevelNote:
		word = strings.TrimSpace(theme.Mark(s.level) + " " + strings.ToUpper(s.level.String()))
	case s.plain:
		word = t.Sign.Done
	}
	text := strings.TrimSpace(word + " " + s.said)
	lines := layout.WrapTo(text, width, most)
	if s.level >= ranges.LevelTell {
		lines = layout.Wrap(text, width)
		if s.horse.Patient == nil {
			call = s.Deps.Settings.Call()
		}
	}
	for i, line := range lines {
		badge := ""
		if i == 0 && strings.HasPrefix(line, word) {
			badge, line = t.Level(s.level).Render(word), line[len(word):]
		}
		if s.level > 0 || s.plain {
			line = t.Limit(s.level).Render(line)
		}
		lines[i] = badge + line
	}
	if call != "" {
		lines = append(lines, t.Alarm.Render(layout.Cut(call, width)))
	}
	return lines
}

// drawNextName names the step that is asked after this one, where that is known.
func (s *screen) drawNextName(width int) string {
	if s.horse.Patient != nil || s.once || s.panel.kind != noPanel {
		return ""
	}
	to := s.comeTo
	if to < 0 {
		to = s.nextOpen(s.now + 1)
	}
	if to == s.now || to >= len(s.routine.Asks) {
		return ""
	}
	return s.Deps.Theme.Faint.Render(layout.Cut("next: "+notation.CleanLine(s.shortOf(to), 0), width))
}
