// Package examtest holds an exam.Store in memory for tests, and the checks that
// every Store must pass.
package examtest

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"loosebox/exam"
)

// line is an entry as it would lie in a file.
type line struct {
	body []byte
	hash exam.Hash
}

// Store is an exam.Store in memory. It seals and folds entries as a file store
// does, so that what is read back went through the stored bytes. Identities
// are counted, the same ones in every run.
type Store struct {
	mu       sync.Mutex
	made     int
	horses   map[exam.HorseID][]exam.Horse // revisions, oldest first
	said     []exam.HorseLine              // of all horses, in the order in which they were saved
	joins    exam.Joinings
	lines    map[exam.VisitID][]line
	numbers  map[exam.VisitID]*exam.Numbers // of the lines, so that a write reads none of them again
	visits   map[exam.VisitID]exam.Visit
	ofHorse  map[exam.HorseID][]exam.VisitID
	rounds   map[string][]exam.RoundLine // by day
	settings exam.Settings
	common   []exam.Setting // lines about settings of the practice
	fault    error
	writes   int
	raw      bool
	simulate bool // it keeps rehearsals only
}

var _ exam.Store = (*Store)(nil)

// NewStore makes an empty store.
func NewStore() *Store {
	return &Store{
		horses:  map[exam.HorseID][]exam.Horse{},
		lines:   map[exam.VisitID][]line{},
		numbers: map[exam.VisitID]*exam.Numbers{},
		visits:  map[exam.VisitID]exam.Visit{},
		ofHorse: map[exam.HorseID][]exam.VisitID{},
		rounds:  map[string][]exam.RoundLine{},
	}
}

// NewRehearsals makes an empty store of rehearsals.
func NewRehearsals() *Store {
	s := NewStore()
	s.simulate = true
	return s
}

// FailWith makes every method return the error until it is called with nil.
func (s *Store) FailWith(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fault = err
}

// KeepAsGiven makes the store keep texts without cleaning them, as a record from
// elsewhere could hold them: for tests that nothing hostile reaches a screen.
func (s *Store) KeepAsGiven() { s.raw = true }

// Writes says how many horses, entries and settings were written so far.
func (s *Store) Writes() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.writes
}

// id makes the next identity, in the form of a UUID of version 7.
func (s *Store) id(at time.Time) string {
	s.made++
	ms := at.UnixMilli()
	return fmt.Sprintf("%08x-%04x-7000-8000-%012x", uint32(ms>>16), uint16(ms), s.made)
}

// Horses lists every horse by name.
func (s *Store) Horses() ([]exam.Found, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return nil, s.fault
	}
	list := make([]exam.Found, 0, len(s.horses))
	for id := range s.horses {
		if s.lead(id) != id {
			continue
		}
		h, err := s.newest(id)
		if err != nil {
			return nil, err
		}
		f := exam.Found{Horse: h, Stamp: uint64(len(s.group(id))-1) << 32}
		if len(h.Joined) > 0 {
			f.Each = map[exam.HorseID]int{}
			for _, one := range h.Joined {
				f.Each[one.ID] = 0
			}
		}
		var openAt time.Time
		for _, vid := range s.visitsOf(id) {
			v := s.visits[vid]
			if v.Closed() {
				f.Stamp += uint64(v.Entries)
			}
			if !v.Stands() {
				continue
			}
			f.Visits++
			if len(h.Joined) > 0 {
				f.Each[v.Horse.ID]++
			}
			if v.OpenedAt.After(f.LastAt) {
				f.LastAt = v.OpenedAt
			}
			if !v.Closed() && !v.OpenedAt.Before(openAt) {
				f.Open, openAt = vid, v.OpenedAt
			}
		}
		list = append(list, f)
	}
	slices.SortFunc(list, func(a, b exam.Found) int {
		return cmp.Or(
			strings.Compare(strings.ToLower(a.Horse.Name), strings.ToLower(b.Horse.Name)),
			cmp.Compare(a.Horse.ID, b.Horse.ID),
		)
	})
	return list, nil
}

// Horse returns the newest revision of a horse.
func (s *Store) Horse(id exam.HorseID) (exam.Horse, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return exam.Horse{}, s.fault
	}
	return s.newest(id)
}

func (s *Store) newest(id exam.HorseID) (exam.Horse, error) {
	revisions := s.horses[id]
	if len(revisions) == 0 {
		return exam.Horse{}, fmt.Errorf("horse %q: %w", id, exam.ErrNotFound)
	}
	if len(s.group(id)) > 1 {
		return exam.FoldHorse(s.saidOf(id))
	}
	return cloneHorse(revisions[len(revisions)-1]), nil
}

// SaveHorse adds a revision of a horse.
func (s *Store) SaveHorse(h exam.Horse, by string, at time.Time) (exam.Horse, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return exam.Horse{}, s.fault
	}
	newest := exam.Horse{}
	if len(s.horses[h.ID]) > 0 {
		newest, _ = s.newest(h.ID)
	}
	if h.Revision != newest.Revision+1 && (h.ID == "" || newest.ID != "" || h.Revision != 1) {
		return exam.Horse{}, fmt.Errorf("save %q as revision %d: %w", h.Name, h.Revision, exam.ErrStale)
	}
	if h.ID == "" {
		h.ID = exam.HorseID(s.id(at))
	}
	if !s.raw {
		h, _ = exam.Clean(h)
	}
	h = cloneHorse(h)
	if group := s.group(h.ID); len(group) > 1 {
		return s.saveJoined(h, newest, group, by, at)
	}
	s.said = append(s.said, exam.HorseLine{Horse: h, By: by, At: at})
	s.horses[h.ID] = append(s.horses[h.ID], h)
	s.writes++
	return cloneHorse(h), nil
}

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

func cloneHorse(h exam.Horse) exam.Horse {
	h.Cautions = slices.Clone(h.Cautions)
	h.Reactions = slices.Clone(h.Reactions)
	return h
}
