package examtest

import (
	"fmt"
	"maps"
	"slices"

	"loosebox/exam"
)

// Settings returns the settings.
func (s *Store) Settings() (exam.Settings, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	out := s.settings
	out.Common = exam.Common{}
	for _, state := range s.states() {
		_ = out.Use(state.Key, state.InUse().Value) // what could not be typed is not used
	}
	return out, s.fault
}

// SaveSetting adds a line about a setting of the practice.
func (s *Store) SaveSetting(set exam.Setting) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return s.fault
	}
	if err := set.Check(); err != nil {
		return err
	}
	all := set.Replaces == nil
	set, err := exam.Clean(set)
	if err != nil {
		return err
	}
	now := exam.SettingState{Key: set.Key}
	for _, state := range s.states() {
		if state.Key == set.Key {
			now = state
		}
	}
	if all {
		set.Replaces = now.Lines()
	}
	if len(now.Said) == 0 && len(set.Value) == 0 || all && len(now.Said) > 0 && !now.Differ() && string(now.Said[0].Value) == string(set.Value) {
		return nil
	}
	set.Line, set.Own, set.Laptop = exam.Hash(fmt.Sprintf("%064d", len(s.common)+1)), true, "laptop 0000"
	s.common = append(s.common, set)
	s.writes++
	return nil
}

// PracticeSettings lists the settings of the practice as they stand.
func (s *Store) PracticeSettings() ([]exam.SettingState, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.states(), s.fault
}

func (s *Store) states() []exam.SettingState {
	by := map[exam.SettingKey][]exam.Setting{}
	for _, l := range s.common {
		by[l.Key] = append(by[l.Key], l)
	}
	var out []exam.SettingState
	for _, key := range slices.Sorted(maps.Keys(by)) {
		out = append(out, exam.SettingState{Key: key, Said: exam.FoldSettings(by[key])})
	}
	return out
}

// SaveSettings keeps the settings.
func (s *Store) SaveSettings(settings exam.Settings) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return s.fault
	}
	s.settings = settings
	s.writes++
	return nil
}
