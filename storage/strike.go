package storage

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Strike strikes a visit, and where again names a horse enters its lines again
// for that horse, in one transaction: all of it or nothing.
func (r *Record) Strike(e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	e, err = exam.Clean(e)
	if err != nil {
		return struck, entered, err
	}
	visit, ok := parseID(string(e.Visit))
	if !ok {
		return struck, entered, exam.NoSuch("no visit has the number %q in the record", notation.CleanLine(string(e.Visit), 60))
	}
	err = r.update(func(tx txn) error {
		if struck, entered, err = r.strike(tx, visit, e, again); err != nil {
			return err
		}
		if struck, err = one(tx, struck); err == nil && entered.ID != "" {
			entered, err = one(tx, entered)
		}
		return err
	})
	if err != nil {
		return exam.Visit{}, exam.Visit{}, err
	}
	return struck, entered, nil
}

func (r *Record) strike(tx txn, visit id, e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	h, err := readHead(tx, visit)
	if err != nil {
		return struck, entered, err
	}
	lines, numbers, err := readEntries(tx, visit, h)
	if err != nil {
		return struck, entered, err
	}
	v, err := exam.Fold(lines)
	if err != nil {
		return struck, entered, err
	}
	if err := checkSigned(e.By, e.At); err != nil {
		return struck, entered, err
	}
	if err := exam.CanStrike(v, e, again != ""); err != nil {
		return struck, entered, err
	}
	if again != "" {
		if entered, err = r.enterAgain(tx, lines, e, again); err != nil {
			return struck, entered, err
		}
		a := *e.Amend
		a.Again = entered.ID
		e.Amend = &a
	}
	back, err := putEntry(tx, visit, &h, numbers, e)
	if err != nil {
		return struck, entered, err
	}
	if err := h.write(tx, visit); err != nil {
		return struck, entered, err
	}
	if err := v.Apply(back); err != nil {
		return struck, entered, err
	}
	if err := writeSnapshot(tx, visit, v); err != nil {
		return struck, entered, err
	}
	s, err := readSummary(tx, h.horse)
	if err != nil {
		return struck, entered, err
	}
	s.closeVisit(visit)
	s.strikeVisit(visit)
	if err := s.write(tx, h.horse); err != nil {
		return v, entered, err
	}
	return v, entered, outline(tx, h.horse)
}

// enterAgain writes the lines of a visit once more, for another horse.
func (r *Record) enterAgain(tx txn, lines []exam.Entry, strike exam.Entry, again exam.HorseID) (exam.Visit, error) {
	key, ok := parseID(string(again))
	if !ok {
		return exam.Visit{}, exam.NoSuch("no horse has the number %q in the record", notation.CleanLine(string(again), 60))
	}
	g, err := readGroups(tx)
	if err != nil {
		return exam.Visit{}, err
	}
	key = g.lead(key)
	s, err := readSummary(tx, key)
	if err != nil {
		return exam.Visit{}, err
	}
	horse, err := s.horse()
	if err != nil {
		return exam.Visit{}, err
	}
	horse.Joined = nil
	copies, err := exam.EnterAgain(lines, horse, strike)
	if err != nil {
		return exam.Visit{}, err
	}
	v, err := r.importVisit(tx, s, key, copies)
	if err != nil {
		return exam.Visit{}, fmt.Errorf("the visit cannot be entered again, so it is not voided either: %w", err)
	}
	if err := s.write(tx, key); err != nil {
		return v, err
	}
	return v, outline(tx, key)
}
