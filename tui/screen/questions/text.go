package questions

import (
	"strings"

	"github.com/charmbracelet/lipgloss"

	"loosebox/exam/notation"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
)

// style is how a tone is drawn.
func (s *Screen) style(tone script.Tone) lipgloss.Style {
	t := s.Deps.Theme
	switch tone {
	case script.Strong:
		return t.Strong
	case script.Alarm:
		return t.Alarm
	case script.Warn:
		return t.Warn
	case script.Caution:
		return t.Caution
	case script.Faint:
		return t.Faint
	case script.Heading:
		return t.Heading
	case script.Digits:
		return t.Digits
	case script.Plain:
	}
	return lipgloss.NewStyle()
}

// texts draws lines of a head.
func (s *Screen) texts(list []script.Text, width int) []string {
	var out []string
	for _, t := range list {
		out = append(out, s.text(t, width)...)
	}
	return out
}

func (s *Screen) text(t script.Text, width int) []string {
	words, style := notation.CleanNote(t.Words), s.style(t.Tone)
	switch {
	case t.Steps != nil:
		return []string{layout.Cut(s.steps(t.Steps), width)}
	case words == "" && t.Lead == "":
		return []string{""}
	case t.Cut && t.Lead == "":
		return []string{style.Render(layout.Cut(words, width))}
	}
	lead := t.Mark
	if t.Lead != "" {
		lead, words = "", t.Lead+" "+words
	}
	lines := layout.Wrap(words, width-len(lead))
	for i, l := range lines {
		if rest, ok := strings.CutPrefix(l, t.Lead); ok && i == 0 && t.Lead != "" {
			lines[i] = s.Deps.Theme.Alarm.Render(t.Lead) + style.Render(rest)
			continue
		}
		if i > 0 {
			lead = strings.Repeat(" ", len(lead))
		}
		lines[i] = lead + style.Render(l)
	}
	return lines
}

// steps is a row of what is done, now and left, each with its sign.
func (s *Screen) steps(list []script.ProgressStep) string {
	sign := s.Deps.Theme.Sign
	parts := make([]string, len(list))
	for i, step := range list {
		mark := sign.Left
		switch step.State {
		case script.Done:
			mark = sign.Done
		case script.Now:
			mark = sign.Now
		case script.Left:
		}
		parts[i] = mark + " " + step.Words
	}
	return strings.Join(parts, "   ")
}
