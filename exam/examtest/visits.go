package examtest

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
)

// Begin opens a visit.
func (s *Store) Begin(first exam.Entry) (exam.Visit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return exam.Visit{}, s.fault
	}
	if first.Kind != exam.EntryOpened || first.Opening == nil {
		return exam.Visit{}, fmt.Errorf("a visit begins with an opened entry, not with %q", first.Kind)
	}
	horse := s.lead(first.Opening.Horse.ID)
	if _, err := s.newest(horse); err != nil {
		return exam.Visit{}, fmt.Errorf("begin a visit: %w", err)
	}
	opening := *first.Opening
	opening.Horse.ID = horse
	first.Opening = &opening
	if err := exam.Apart(*first.Opening, s.simulate); err != nil {
		return exam.Visit{}, err
	}
	first.Visit = exam.VisitID(s.id(first.At))
	if _, err := s.write(first, exam.Visit{}); err != nil {
		return exam.Visit{}, err
	}
	s.ofHorse[horse] = append(s.ofHorse[horse], first.Visit)
	return s.one(s.visits[first.Visit]), nil
}

// Append adds an entry to a visit.
func (s *Store) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return exam.Entry{}, s.fault
	}
	v, ok := s.visits[e.Visit]
	if !ok {
		return exam.Entry{}, fmt.Errorf("visit %q: %w", e.Visit, exam.ErrNotFound)
	}
	if e.Kind == exam.EntryOpened {
		return exam.Entry{}, fmt.Errorf("visit %q is opened already", e.Visit)
	}
	if e.Corrects < 0 || e.Corrects > v.Entries {
		return exam.Entry{}, fmt.Errorf("entry %d of visit %q: %w", e.Corrects, e.Visit, exam.ErrNotFound)
	}
	if e.Kind == exam.EntryStruck {
		return exam.Entry{}, fmt.Errorf("visit %q is struck by Strike", e.Visit)
	}
	if err := exam.Amend(v, e); err != nil {
		return exam.Entry{}, err
	}
	if err := authorization.CheckDecided(v, e); err != nil {
		return exam.Entry{}, err
	}
	for _, check := range checks {
		if err := check(standing{s, v}); err != nil {
			return exam.Entry{}, err
		}
	}
	return s.write(e, v)
}

// standing reads the store while it is locked.
type standing struct {
	store *Store
	visit exam.Visit
}

func (s standing) Visit() (exam.Visit, error)  { return s.store.one(s.visit), nil }
func (s standing) Past() ([]exam.Visit, error) { return s.store.past(s.visit.Horse.ID, 0), nil }

// read reads the lines of a visit back from their bytes.
func (s *Store) read(id exam.VisitID) ([]exam.Entry, *exam.Numbers, error) {
	numbers := new(exam.Numbers)
	entries := make([]exam.Entry, len(s.lines[id]))
	for i, l := range s.lines[id] {
		var e exam.Entry
		if err := exam.ReadLine(exam.LineEntry, l.body, &e); err != nil {
			return nil, nil, err
		}
		entries[i] = numbers.Next(e, l.hash)
	}
	return entries, numbers, nil
}

// write seals an entry behind the last of its visit and reads it back.
func (s *Store) write(e exam.Entry, v exam.Visit) (exam.Entry, error) {
	if !s.raw {
		clean, err := exam.Clean(e)
		if err != nil {
			return exam.Entry{}, err
		}
		e = clean
	}
	numbers := s.numbers[e.Visit]
	if numbers == nil { // of a new visit, or after a line that was refused
		var err error
		if _, numbers, err = s.read(e.Visit); err != nil {
			return exam.Entry{}, err
		}
	}
	e, err := numbers.Identify(e)
	if err != nil {
		return exam.Entry{}, err
	}
	e.Prev = v.Last
	if err := exam.Seal(&e); err != nil {
		return exam.Entry{}, err
	}
	body, err := exam.LineBody(exam.LineEntry, e)
	if err != nil {
		return exam.Entry{}, err
	}
	var back exam.Entry
	if err := exam.ReadLine(exam.LineEntry, body, &back); err != nil {
		return exam.Entry{}, err
	}
	delete(s.numbers, e.Visit) // it is a line ahead of the visit until that has taken it
	back = numbers.Next(back, e.Hash)
	v = cloneVisit(v)
	if err := v.Apply(back); err != nil {
		return exam.Entry{}, err
	}
	s.lines[e.Visit] = append(s.lines[e.Visit], line{body, e.Hash})
	s.visits[e.Visit] = v
	s.numbers[e.Visit] = numbers
	s.writes++
	return back, nil
}

// Visit returns a visit.
func (s *Store) Visit(id exam.VisitID) (exam.Visit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	v, ok := s.visits[id]
	switch {
	case s.fault != nil:
		return exam.Visit{}, s.fault
	case !ok:
		return exam.Visit{}, fmt.Errorf("visit %q: %w", id, exam.ErrNotFound)
	}
	return s.one(v), nil
}

// Entries returns a visit's lines in order.
func (s *Store) Entries(id exam.VisitID) ([]exam.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, ok := s.lines[id]
	switch {
	case s.fault != nil:
		return nil, s.fault
	case !ok:
		return nil, fmt.Errorf("visit %q: %w", id, exam.ErrNotFound)
	}
	entries, _, err := s.read(id)
	return entries, err
}

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

// Strike strikes a visit and enters it again for another horse.
func (s *Store) Strike(e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	v, ok := s.visits[e.Visit]
	switch {
	case s.fault != nil:
		return struck, entered, s.fault
	case !ok:
		return struck, entered, fmt.Errorf("visit %q: %w", e.Visit, exam.ErrNotFound)
	}
	if err := exam.CanStrike(v, e, again != ""); err != nil {
		return struck, entered, err
	}
	if again != "" {
		if entered, err = s.enterAgain(e, again); err != nil {
			return struck, entered, err
		}
		a := *e.Amend
		a.Again = entered.ID
		e.Amend = &a
	}
	_, err = s.write(e, v)
	return s.one(s.visits[e.Visit]), entered, err
}

func (s *Store) enterAgain(strike exam.Entry, horse exam.HorseID) (exam.Visit, error) {
	h, err := s.newest(horse)
	if err != nil {
		return exam.Visit{}, fmt.Errorf("enter a visit again: %w", err)
	}
	old, _, err := s.read(strike.Visit)
	if err != nil {
		return exam.Visit{}, err
	}
	lines, err := exam.EnterAgain(old, h, strike)
	if err != nil {
		return exam.Visit{}, err
	}
	id := exam.VisitID(s.id(strike.At))
	for _, e := range lines {
		e.Visit = id
		if _, err := s.write(e, s.visits[id]); err != nil {
			return exam.Visit{}, err
		}
	}
	s.ofHorse[horse] = append(s.ofHorse[horse], id)
	return cloneVisit(s.visits[id]), nil
}

// cloneVisit keeps a caller's changes out of the store; what findings point to
// is never changed by anybody.
func cloneVisit(v exam.Visit) exam.Visit {
	v.Findings = slices.Clone(v.Findings)
	v.Notes = slices.Clone(v.Notes)
	v.HandOffs = slices.Clone(v.HandOffs)
	v.Decisions = slices.Clone(v.Decisions)
	v.Injections = slices.Clone(v.Injections)
	v.Draws = slices.Clone(v.Draws)
	v.Watches = slices.Clone(v.Watches)
	v.Rechecks = slices.Clone(v.Rechecks)
	v.Readings = slices.Clone(v.Readings)
	v.Horse = cloneHorse(v.Horse)
	return v
}
