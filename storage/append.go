package storage

import (
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Begin opens a visit with its first entry. The opening names the horse by its
// identity; the horse is written into the entry as it is known now.
func (r *Record) Begin(first exam.Entry) (exam.Visit, error) {
	e, err := exam.Clean(first)
	if err != nil {
		return exam.Visit{}, err
	}
	if e.Kind != exam.EntryOpened || e.Opening == nil {
		return exam.Visit{}, fmt.Errorf("a visit begins with an entry of the kind %q; nothing was saved", exam.EntryOpened)
	}
	horse, ok := parseID(string(e.Opening.Horse.ID))
	if !ok {
		return exam.Visit{}, exam.NoSuch("no horse has the number %q in the record; save the horse before its visit", e.Opening.Horse.ID)
	}
	var v exam.Visit
	err = r.update(func(tx txn) error {
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		horse := g.lead(horse)
		s, err := readSummary(tx, horse)
		if err != nil {
			return err
		}
		if e.Opening.Horse, err = s.horse(); err != nil {
			return err
		}
		e.Opening.Horse.Joined = nil // they say for themselves what they are
		v, err = r.begin(tx, s, horse, r.newID(), e)
		if err != nil {
			return err
		}
		return s.write(tx, horse)
	})
	return v, err
}

// begin writes the first entry of a visit and counts the visit; the summary is
// changed but not written. The visit gets the given identity, which no other has.
func (r *Record) begin(tx txn, s *summary, horse id, identity string, e exam.Entry) (exam.Visit, error) {
	if err := checkSigned(e.By, e.At); err != nil {
		return exam.Visit{}, err
	}
	if err := exam.CheckApart(*e.Opening, tx.namespace == rehearsalsNamespace); err != nil {
		return exam.Visit{}, err
	}
	visit, ok := parseID(identity)
	if !ok {
		return exam.Visit{}, errors.New("a new identity is no UUID; nothing was saved")
	}
	e.Visit = visit.visit()
	h := head{horse: horse}
	back, err := putEntry(tx, visit, &h, new(exam.Numbers), e)
	if err != nil {
		return exam.Visit{}, err
	}
	if err := h.write(tx, visit); err != nil {
		return exam.Visit{}, err
	}
	s.addVisit(slotOf(visit, back.At), true)
	n, err := readTotals(tx)
	if err != nil {
		return exam.Visit{}, err
	}
	n.visits++
	if err := n.write(tx); err != nil {
		return exam.Visit{}, err
	}
	return exam.Fold([]exam.Entry{back})
}

// Append adds one entry to a visit in one transaction; when it returns without an error the entry
// is on the disk. It returns the entry as it will be read back.
//
// Checks are asked in that transaction, before anything is written.
func (r *Record) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	e, err := exam.Clean(e)
	if err != nil {
		return exam.Entry{}, err
	}
	visit, ok := parseID(string(e.Visit))
	if !ok {
		return exam.Entry{}, exam.NoSuch("no visit has the number %q in the record", notation.CleanLine(string(e.Visit), 60))
	}
	var back exam.Entry
	err = r.update(func(tx txn) error {
		h, err := readHead(tx, visit)
		if err != nil {
			return err
		}
		if err := checkEntry(tx, visit, h, e); err != nil {
			return err
		}
		if err := checkAmendment(tx, visit, h, e); err != nil {
			return err
		}
		if err := checkDecided(tx, visit, h, e); err != nil {
			return err
		}
		for _, check := range checks {
			if err := check(standing{tx, visit, h}); err != nil {
				return err
			}
		}
		wasClosed := h.closed
		if back, err = putEntry(tx, visit, &h, nil, e); err != nil {
			return err
		}
		if err := h.write(tx, visit); err != nil {
			return err
		}
		if h.closed {
			return follow(tx, visit, h, back, wasClosed)
		}
		if h.where.logs() < 2 {
			return nil // whoever wrote it knew all before
		}
		v, err := foldVisit(tx, visit, h)
		if err != nil {
			return err
		}
		return resettle(tx, visit, h.horse, v)
	})
	if err != nil {
		return exam.Entry{}, err
	}
	return back, nil
}

// putEntry writes an entry behind a visit's last and moves the head. It returns the
// entry as it will be read back. The numbers are those of the visit's lines; where they
// are nil they are read when the entry names other lines.
func putEntry(tx txn, visit id, h *head, numbers *exam.Numbers, e exam.Entry) (exam.Entry, error) {
	if e.Refers() && numbers == nil && h.seq > 0 {
		var err error
		if _, numbers, err = readEntries(tx, visit, *h); err != nil {
			return e, err
		}
	}
	if numbers == nil {
		numbers = new(exam.Numbers)
	}
	e, err := numbers.Identify(e)
	if err != nil {
		return e, err
	}
	p, identity, body, err := add(tx, exam.LineEntry, e)
	if err != nil {
		return e, err
	}
	var back exam.Entry
	if err := exam.ReadLine(exam.LineEntry, body, &back); err != nil {
		return back, err
	}
	back = numbers.Next(back, identity)
	back.Seq, back.Prev = h.seq+1, h.last
	h.took(back, p)
	tx.w.pack = tx.w.pack || h.closed
	return back, nil
}

// took counts a line in the head.
func (h *head) took(e exam.Entry, p place) {
	h.seq, h.last, h.where = e.Seq, e.Hash, h.where.with(p)
	h.struck = h.struck || e.Kind == exam.EntryStruck
	h.closed = h.closed || h.struck || e.Kind == exam.EntryClosed
}

// follow writes the rows that are derived from a closed visit.
func follow(tx txn, visit id, h head, last exam.Entry, wasClosed bool) error {
	v, err := followed(tx, visit, h, last, wasClosed)
	if err != nil {
		return err
	}
	if err := writeSnapshot(tx, visit, v); err != nil {
		return err
	}
	if err := resettle(tx, visit, h.horse, v); err != nil {
		return err
	}
	if !wasClosed {
		s, err := readSummary(tx, h.horse)
		if err != nil {
			return err
		}
		s.closeVisit(visit)
		if err := s.write(tx, h.horse); err != nil {
			return err
		}
	}
	return outline(tx, h.horse)
}

// resettle notes whether somebody must look at something in a visit, where that changed.
func resettle(tx txn, visit, horse id, v exam.Visit) error {
	s, err := readSummary(tx, horse)
	if err != nil || !s.settleVisit(visit, len(v.Unsettled()) > 0) {
		return err
	}
	return s.write(tx, horse)
}

// followed is the visit with its newest entry.
func followed(tx txn, visit id, h head, last exam.Entry, wasClosed bool) (exam.Visit, error) {
	if !wasClosed {
		return foldVisit(tx, visit, h)
	}
	v, err := readSnapshot(tx, visit)
	if err != nil {
		return v, err
	}
	return v, v.Apply(last)
}
