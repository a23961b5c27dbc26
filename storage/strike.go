package storage

import (
	"context"
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

// StrikeAll strikes many visits in one transaction, all or none, each by the entry, which names person, time and reason. A
// visit that is struck already stays as it is. It returns how many were struck. Visits of one horse are best handed in
// side by side: what lists read of a horse is written once for all of them.
func (r *Record) StrikeAll(ctx context.Context, visits []exam.VisitID, e exam.Entry) (int, error) {
	e, err := exam.Clean(e)
	if err != nil {
		return 0, err
	}
	n := 0
	err = r.update(func(tx txn) error {
		n = 0
		horses := map[id]bool{}
		for _, which := range visits {
			if err := ctx.Err(); err != nil {
				return fmt.Errorf("broken off, and nothing of this part was saved: %w", err)
			}
			visit, ok := parseID(string(which))
			if !ok {
				return exam.NoSuch("no visit has the number %q in the record", notation.CleanLine(string(which), 60))
			}
			h, err := readHead(tx, visit)
			if err != nil {
				return err
			}
			if h.struck {
				continue
			}
			e.Visit = visit.visit()
			if _, _, err := r.strikeVisit(tx, visit, h, e, ""); err != nil {
				return fmt.Errorf("visit %s: %w", visit, err)
			}
			horses[h.horse] = true
			n++
		}
		for horse := range horses {
			if err := outline(tx, horse); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	return n, nil
}

func (r *Record) strike(tx txn, visit id, e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	h, err := readHead(tx, visit)
	if err != nil {
		return struck, entered, err
	}
	if struck, entered, err = r.strikeVisit(tx, visit, h, e, again); err != nil {
		return struck, entered, err
	}
	return struck, entered, outline(tx, h.horse)
}

// strikeVisit writes the line that strikes a visit and all that follows from it but the horse's outline.
func (r *Record) strikeVisit(tx txn, visit id, h head, e exam.Entry, again exam.HorseID) (v, entered exam.Visit, err error) {
	if v, err = visitAt(tx, visit, h); err != nil {
		return v, entered, err
	}
	if err := checkSigned(e.By, e.At); err != nil {
		return v, entered, err
	}
	if err := exam.CheckStrike(v, e, again != ""); err != nil {
		return v, entered, err
	}
	if again != "" {
		lines, _, err := readEntries(tx, visit, h)
		if err != nil {
			return v, entered, err
		}
		if entered, err = r.enterAgain(tx, lines, e, again); err != nil {
			return v, entered, err
		}
		a := *e.Amend
		a.Again = entered.ID
		e.Amend = &a
	}
	back, err := putEntry(tx, visit, &h, nil, e)
	if err != nil {
		return v, entered, err
	}
	if err := h.write(tx, visit); err != nil {
		return v, entered, err
	}
	if err := v.Apply(back); err != nil {
		return v, entered, err
	}
	if err := writeSnapshot(tx, visit, v); err != nil {
		return v, entered, err
	}
	s, err := readSummary(tx, h.horse)
	if err != nil {
		return v, entered, err
	}
	s.closeVisit(visit)
	s.strikeVisit(visit)
	return v, entered, s.write(tx, h.horse)
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
