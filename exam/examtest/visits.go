package examtest

import (
	"fmt"
	"slices"

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
	if err := exam.CheckApart(*first.Opening, s.simulate); err != nil {
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
	if err := exam.CheckAmendment(v, e); err != nil {
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
	if err := exam.CheckStrike(v, e, again != ""); err != nil {
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
