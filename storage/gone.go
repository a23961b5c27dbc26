package storage

import (
	"slices"

	"loosebox/exam"
)

// gone deletes the rows of horses, visits and settings without lines. Visits of such a horse wait
// for it.
func (a *adoption) gone(tx txn) error {
	for horse := range a.horses[tx.namespace] {
		where, err := readRuns(tx, bucketHorseLines, horse[:])
		if err != nil {
			return err
		}
		if len(where) > 0 {
			continue
		}
		delete(a.horses[tx.namespace], horse)
		if err := a.horseGone(tx, horse); err != nil {
			return err
		}
	}
	for visit := range a.visits[tx.namespace] {
		h, err := headHere(tx, visit)
		if err != nil {
			return err
		}
		if len(h.where) > 0 {
			continue
		}
		delete(a.visits[tx.namespace], visit)
		list, err := waitingVisits(tx)
		if err != nil {
			return err
		}
		list = slices.DeleteFunc(list, func(v exam.VisitID) bool { return v == visit.visit() })
		if err := writeWaiting(tx, list); err != nil {
			return err
		}
		if err := deleteRow(tx, bucketVisits, visit[:]); err != nil {
			return err
		}
	}
	for key := range a.settings {
		where, err := readRuns(tx, bucketSettingLines, []byte(key))
		if err != nil {
			return err
		}
		if len(where) > 0 {
			continue
		}
		delete(a.settings, key)
		if err := deleteRow(tx, bucketStanding, []byte(key)); err != nil {
			return err
		}
	}
	return nil
}

func (a *adoption) horseGone(tx txn, horse id) error {
	s, err := readSummaryHere(tx, horse)
	if err != nil || s == nil {
		return err
	}
	for i := range s.count() {
		visit := s.slot(i).visit
		h, err := headHere(tx, visit)
		if err != nil {
			return err
		}
		h.closed, h.struck, h.waiting = false, false, true
		if err := h.write(tx, visit); err != nil {
			return err
		}
		if err := deleteRow(tx, bucketSnapshots, visit[:]); err != nil {
			return err
		}
		note(a.visits, tx.namespace, visit)
	}
	n, err := readTotals(tx)
	if err != nil {
		return err
	}
	n.horses--
	n.visits -= s.count()
	if err := n.write(tx); err != nil {
		return err
	}
	for _, name := range []string{bucketSummaries, bucketOutlines} {
		if err := deleteRow(tx, name, horse[:]); err != nil {
			return err
		}
	}
	return nil
}
