package settings

import (
	"errors"
	"fmt"
	"reflect"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// savedSettingsMsg says whether the settings are on the disk.
type savedSettingsMsg struct {
	of       *screen
	settings exam.Settings
	states   map[exam.SettingKey]exam.SettingState
	err      error
}

// wish is a setting of the practice that is to be saved; a picture is read from its file.
type wish struct {
	exam.Setting
	picture string
}

// wishes notes what is set for the practice.
func (s *screen) wishes(key exam.SettingKey, text string) {
	w := wish{Setting: exam.Setting{Key: key, By: s.now.Person, At: s.Deps.Now()}}
	if key == exam.SettingLogo {
		w.picture = text
	} else {
		w.Value, _ = key.Read(text) // it passed its check
		_ = s.now.Use(key, w.Value)
	}
	s.wanted = append(s.wanted, w)
}

// unchanged says that nothing is to be saved.
func (s *screen) unchanged() bool { return len(s.wanted) == 0 && same(s.now, s.Deps.Settings) }

// same says that two settings have the same of the machine's own.
func same(a, b exam.Settings) bool {
	a.Common = b.Common
	return reflect.DeepEqual(a, b)
}

func (s *screen) save() tea.Cmd {
	store, settings, wanted, picture := s.Deps.Store, s.now, s.wanted, s.Deps.Picture
	own := !same(settings, s.Deps.Settings)
	s.wanted = nil
	return func() tea.Msg {
		m := savedSettingsMsg{of: s, settings: settings}
		if own {
			m.err = store.SaveSettings(settings)
		}
		for _, w := range wanted {
			switch {
			case m.err != nil || w.picture == "":
			case picture == nil:
				m.err = errors.New("no picture can be read here")
			default:
				w.Value, m.err = picture(w.picture)
			}
			if m.err == nil {
				m.err = store.SaveSetting(w.Setting)
			}
		}
		if m.err == nil { // another laptop may have set something meanwhile
			var now exam.Settings
			now, m.err = store.Settings()
			m.settings.Common = now.Common
		}
		if m.err == nil {
			m.states, m.err = statesOf(store)
		}
		return m
	}
}

// statesOf are the settings of the practice as they stand.
func statesOf(store exam.Store) (map[exam.SettingKey]exam.SettingState, error) {
	list, err := store.PracticeSettings()
	out := map[exam.SettingKey]exam.SettingState{}
	for _, s := range list {
		out[s.Key] = s
	}
	return out, err
}

// load reads who set what.
func (s *screen) load() tea.Cmd {
	store := s.Deps.Store
	return base.Read(s, func() (map[exam.SettingKey]exam.SettingState, error) {
		states, err := statesOf(store)
		return states, base.Unread("the settings of the practice", err)
	}, func(states map[exam.SettingKey]exam.SettingState) tea.Cmd {
		if s.states = states; s.typed == nil && !s.saving {
			s.build()
		}
		return nil
	})
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
		s.wanted = nil
		s.read()
		return nav.Fail(fmt.Errorf("this setting is NOT saved and stays as it was: %w", m.err))
	}
	s.states = m.states
	ring := m.settings.Silent != s.Deps.Settings.Silent && !m.settings.Silent
	cmds := []tea.Cmd{func() tea.Msg { return nav.SettingsMsg{Settings: m.settings} }}
	if ring {
		cmds = append(cmds, s.Deps.Bell) // to be heard what was switched on
	}
	if again {
		s.saving, s.leaving = true, leaving
		return tea.Sequence(append(cmds, s.save())...)
	}
	s.now.Common = m.settings.Common
	s.build()
	if leaving {
		cmds = append(cmds, nav.Back())
	}
	return tea.Sequence(cmds...)
}
