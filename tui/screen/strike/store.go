package strike

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

type loadedStrikeMsg struct {
	to     *screen
	visit  exam.Visit
	horses []exam.Horse
	err    error
}

type struckVisitMsg struct {
	to      *screen
	entered exam.Visit
	err     error
}

func (s *screen) load() tea.Cmd {
	store, id := s.deps.Store, s.id
	return func() tea.Msg {
		v, err := store.Visit(id)
		if err != nil {
			return loadedStrikeMsg{to: s, err: fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)}
		}
		found, err := store.Horses()
		if err != nil {
			return loadedStrikeMsg{to: s, err: fmt.Errorf("the horses in the record cannot be read; nothing was changed: %w", err)}
		}
		m := loadedStrikeMsg{to: s, visit: v, horses: make([]exam.Horse, len(found))}
		for i, f := range found {
			m.horses[i] = f.Horse
		}
		return m
	}
}

func (s *screen) take(m loadedStrikeMsg) tea.Cmd {
	switch {
	case m.to != s || s.loaded:
		return nil
	case m.err != nil:
		return nav.Fail(m.err)
	}
	s.loaded, s.visit, s.horses = true, m.visit, m.horses
	s.build()
	return nil
}

func (s *screen) strike() tea.Cmd {
	var again exam.HorseID
	if text := s.again.Content(); text != "" {
		h, err := s.find(text)
		if err != nil {
			s.saving = false
			return nav.Fail(err)
		}
		again = h.ID
	}
	store := s.deps.Store
	e := exam.Entry{
		Visit: s.id, Kind: exam.EntryStruck, At: s.deps.Now(), By: s.by.Content(), Amend: &exam.Amendment{Why: s.why.Content()},
	}
	return func() tea.Msg {
		_, entered, err := store.Strike(e, again)
		return struckVisitMsg{to: s, entered: entered, err: err}
	}
}

// struck leads to the visit that counts now, or back to the struck one.
func (s *screen) struck(m struckVisitMsg) tea.Cmd {
	switch {
	case m.to != s:
		return nil
	case m.err != nil:
		s.saving = false
		return nav.Fail(fmt.Errorf("the visit is NOT struck, everything stands as it was: %w", m.err))
	}
	s.saving = false
	if m.entered.ID == "" {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.Review, Visit: m.entered.ID})
}

func (s *screen) draw(size layout.Size) string {
	t := s.deps.Theme
	done := 0
	for _, f := range s.visit.Findings {
		if f.Done() {
			done++
		}
	}
	text := fmt.Sprintf("%d findings by %s. A struck visit stays readable and is marked; it counts in no range, no trend and no date that is due. It is not taken back.",
		done, exam.CleanLine(s.visit.By, 40))
	if n := len(s.visit.Injections) + len(s.visit.Draws); n > 0 {
		text += fmt.Sprintf(" It holds %d injections or blood draws: entered again, they count for the right horse.", n)
	}
	var lines []string
	for _, l := range layout.Wrap(text, size.W) {
		lines = append(lines, t.Faint.Render(l))
	}
	if len(lines)+4 > size.H {
		lines = nil
	} else {
		lines = append(lines, "")
	}
	var foot []string
	switch {
	case s.saving:
		foot = []string{t.Faint.Render("storing ..")}
	case s.said != "":
		for _, l := range layout.Wrap("! "+s.said, size.W) {
			foot = append(foot, t.Error.Render(l))
		}
	}
	room := layout.Size{W: size.W, H: max(size.H-len(lines)-len(foot), 1)}
	lines = append(lines, layout.Fit(s.form.Lines(room), room)...)
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}
