package exam

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// askWhy keeps entries until the person gives the reason for correcting or adding to a closed visit: they are not stored
// without it.
func (s *screen) askWhy(entries []exam.Entry) tea.Cmd {
	title := "Why is this corrected?"
	for i, e := range entries {
		if e.Corrects == 0 && e.Kind != exam.EntryAdded {
			entries[i].Kind, title = exam.EntryAdded, "Why is this added now?"
		}
	}
	s.panel = newNote(title, s.Deps)
	s.panel.kind, s.panel.held = whyPanel, entries
	return s.panel.text.Init()
}

func (s *screen) pressWhy(p keys.Press) tea.Cmd {
	text, ok, cmd := s.typed(p)
	if !ok {
		return cmd
	}
	held := s.panel.held
	s.panel = panel{}
	for i := range held {
		held[i].Amend = &exam.Amendment{Why: exam.AmendReason(notation.CleanLine(text, 0))}
	}
	return tea.Batch(cmd, s.save(held...))
}

func (s *screen) drawWhy(size layout.Size) []string {
	t := s.Deps.Theme
	lines := []string{t.Strong.Render(layout.Cut(s.panel.title, size.W))}
	for _, l := range layout.Wrap("The visit is closed. The old answer stays readable beside the new one. esc changes nothing.", size.W) {
		lines = append(lines, t.Faint.Render(l))
	}
	return append(lines, s.panel.text.View(layout.Size{W: size.W, H: max(size.H-len(lines), 1)})...)
}
