package examtest

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
)

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

func cloneHorse(h exam.Horse) exam.Horse {
	h.Cautions = slices.Clone(h.Cautions)
	h.Reactions = slices.Clone(h.Reactions)
	return h
}
