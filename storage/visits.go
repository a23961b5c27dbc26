package storage

import (
	"loosebox/exam"
	"loosebox/exam/notation"
)

// Visit returns a visit, or exam.ErrNotFound.
func (r *Record) Visit(which exam.VisitID) (exam.Visit, error) {
	var v exam.Visit
	err := r.viewVisit(which, func(tx txn, visit id) (err error) {
		v, err = readVisitHere(tx, visit)
		return err
	})
	return v, err
}

// Entries returns a visit's lines in order, each checked against its digest.
func (r *Record) Entries(which exam.VisitID) ([]exam.Entry, error) {
	var list []exam.Entry
	err := r.viewVisit(which, func(tx txn, visit id) error {
		h, err := readHead(tx, visit)
		if err != nil {
			return err
		}
		list, _, err = readEntries(tx, visit, h)
		return err
	})
	return list, err
}

func (r *Record) viewVisit(which exam.VisitID, fn func(txn, id) error) error {
	visit, ok := parseID(string(which))
	if !ok {
		return exam.NoSuch("no visit has the number %q in the record", notation.CleanLine(string(which), 60))
	}
	return r.view(func(tx txn) error { return fn(tx, visit) })
}

// readVisit returns a visit's fold: from its snapshot where it is closed, from
// its entries where it is open.
func readVisit(tx txn, visit id) (exam.Visit, error) {
	h, err := readHead(tx, visit)
	if err != nil {
		return exam.Visit{}, err
	}
	return visitAt(tx, visit, h)
}

// visitAt is the fold of a visit whose head was read.
func visitAt(tx txn, visit id, h head) (exam.Visit, error) {
	if !h.closed {
		return foldVisit(tx, visit, h)
	}
	v, err := readSnapshot(tx, visit)
	if err != nil {
		return v, err
	}
	if v.Entries != h.seq || v.Last != h.last || v.ID != visit.visit() {
		return v, damaged("the snapshot of visit %s is not of its last entry", visit)
	}
	return v, nil
}

// readVisitHere is readVisit, and on which laptops it was written.
func readVisitHere(tx txn, visit id) (exam.Visit, error) {
	h, err := readHead(tx, visit)
	if err != nil {
		return exam.Visit{}, err
	}
	v, err := visitAt(tx, visit, h)
	if err != nil {
		return v, err
	}
	if err := onLaptop(tx, h, &v); err != nil {
		return v, err
	}
	return one(tx, v)
}

func foldVisit(tx txn, visit id, h head) (exam.Visit, error) {
	list, _, err := readEntries(tx, visit, h)
	if err != nil {
		return exam.Visit{}, err
	}
	return exam.Fold(list)
}

// readEntries reads all lines of a visit and no more, and how they are numbered.
func readEntries(tx txn, visit id, h head) ([]exam.Entry, *exam.Numbers, error) {
	list, numbers, err := entriesAt(tx, visit, h.where)
	if err != nil {
		return nil, nil, err
	}
	if len(list) != h.seq || list[len(list)-1].Hash != h.last {
		return nil, nil, damaged("visit %s has %d entries, %d were written", visit, len(list), h.seq)
	}
	return list, numbers, nil
}

// entriesAt reads the entries of a visit that lie at some places.
func entriesAt(tx txn, visit id, where runs) ([]exam.Entry, *exam.Numbers, error) {
	lines, err := readLines(tx, where)
	if err != nil {
		return nil, nil, err
	}
	if len(lines) == 0 {
		return nil, nil, damaged("none of the entries of visit %s is there", visit)
	}
	numbers := new(exam.Numbers)
	list := make([]exam.Entry, len(lines))
	for i, l := range lines {
		e, ok := tx.parsed[l.place]
		if delete(tx.parsed, l.place); !ok {
			if err := l.read(exam.LineEntry, &e); err != nil {
				return nil, nil, err
			}
		}
		if e.Visit != visit.visit() {
			return nil, nil, damaged("entry %d of visit %s is of another visit", i+1, visit)
		}
		list[i] = numbers.Next(e, l.identity)
	}
	return list, numbers, markUnseen(tx, lines, list)
}
