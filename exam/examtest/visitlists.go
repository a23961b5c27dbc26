package examtest

import (
	"cmp"
	"slices"
	"time"

	"loosebox/exam"
)

// Past lists a horse's visits newest first.
func (s *Store) Past(h exam.HorseID, limit int) ([]exam.Visit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return nil, s.fault
	}
	return s.past(h, limit), nil
}

func (s *Store) past(h exam.HorseID, limit int) []exam.Visit {
	var visits []exam.Visit
	for _, id := range s.visitsOf(h) {
		if v := s.visits[id]; v.Stands() {
			visits = append(visits, v)
		}
	}
	return s.newestFirst(visits, limit)
}

// Outline lists a horse's visits as lists need them.
func (s *Store) Outline(h exam.HorseID, since time.Time) ([]exam.Visit, error) {
	past, err := s.Past(h, 0)
	return Outline(past, since), err
}

// Struck lists a horse's struck visits newest first.
func (s *Store) Struck(h exam.HorseID) ([]exam.Visit, error) {
	return s.pick(0, func(v exam.Visit) bool { return !v.Stands() && s.lead(v.Horse.ID) == s.lead(h) })
}

// Recent lists visits of all horses newest first.
func (s *Store) Recent(limit int) ([]exam.Visit, error) {
	return s.pick(limit, exam.Visit.Stands)
}

// Unsettled lists the visits in which somebody must look at something, newest first.
func (s *Store) Unsettled() ([]exam.Visit, error) {
	return s.pick(0, func(v exam.Visit) bool { return len(v.Unsettled()) > 0 })
}

// Unfinished lists the visits that are not closed, newest first.
func (s *Store) Unfinished() ([]exam.Visit, error) {
	return s.pick(0, func(v exam.Visit) bool { return !v.Closed() })
}

func (s *Store) pick(limit int, wanted func(exam.Visit) bool) ([]exam.Visit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return nil, s.fault
	}
	var visits []exam.Visit
	for _, v := range s.visits {
		if wanted(v) {
			visits = append(visits, v)
		}
	}
	return s.newestFirst(visits, limit), nil
}

func (s *Store) newestFirst(visits []exam.Visit, limit int) []exam.Visit {
	slices.SortFunc(visits, func(a, b exam.Visit) int {
		return cmp.Or(b.OpenedAt.Compare(a.OpenedAt), cmp.Compare(b.ID, a.ID))
	})
	if limit > 0 && len(visits) > limit {
		visits = visits[:limit]
	}
	for i := range visits {
		visits[i] = s.one(visits[i])
	}
	return visits
}
