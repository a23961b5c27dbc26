package settings

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
)

// savedSettingsMsg says whether the settings are on the disk.
type savedSettingsMsg struct {
	of       *screen
	settings exam.Settings
	err      error
}

func (s *screen) save() tea.Cmd {
	store, settings := s.Deps.Store, s.now
	return func() tea.Msg { return savedSettingsMsg{s, settings, store.SaveSettings(settings)} }
}

// saved tells the root what is stored now. After a refusal the screen goes back
// to what was stored before.
func (s *screen) saved(m savedSettingsMsg) tea.Cmd {
	if m.of != s {
		return nil
	}
	again, leaving := s.again, s.leaving
	s.saving, s.again, s.leaving = false, false, false
	if m.err != nil {
		s.read()
		return nav.Fail(fmt.Errorf("this setting is NOT saved and stays as it was: %w", m.err))
	}
	ring := m.settings.Silent != s.Deps.Settings.Silent && !m.settings.Silent
	cmds := []tea.Cmd{func() tea.Msg { return nav.SettingsMsg{Settings: m.settings} }}
	if ring {
		cmds = append(cmds, s.Deps.Bell) // to be heard what was switched on
	}
	if again {
		s.saving, s.leaving = true, leaving
		return tea.Sequence(append(cmds, s.save())...)
	}
	if leaving {
		cmds = append(cmds, nav.Back())
	}
	return tea.Sequence(cmds...)
}
