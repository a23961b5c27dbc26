package storage

import (
	"encoding/hex"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Visit returns a visit, or exam.ErrNotFound.
func (r *Record) Visit(which exam.VisitID) (exam.Visit, error) {
	var v exam.Visit
	err := r.viewVisit(which, func(tx txn, visit id) (err error) {
		v, err = readVisit(tx, visit)
		return err
	})
	return v, err
}

// Entries returns a visit's lines in order, each checked against its digest,
// the line before it and the visit's head.
func (r *Record) Entries(which exam.VisitID) ([]exam.Entry, error) {
	var list []exam.Entry
	err := r.viewVisit(which, func(tx txn, visit id) error {
		h, err := readHead(tx, visit)
		if err != nil {
			return err
		}
		list, err = readEntries(tx, visit, h)
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

func foldVisit(tx txn, visit id, h head) (exam.Visit, error) {
	list, err := readEntries(tx, visit, h)
	if err != nil {
		return exam.Visit{}, err
	}
	return exam.Fold(list)
}

// readEntries reads all lines of a visit up to its head, and no more.
func readEntries(tx txn, visit id, h head) ([]exam.Entry, error) {
	entries, err := bucket(tx, bucketEntries)
	if err != nil {
		return nil, err
	}
	if h.seq > maxEntries {
		return nil, damaged("visit %s says that it has %d entries", visit, h.seq)
	}
	list := make([]exam.Entry, 0, h.seq)
	prev := exam.Hash("")
	c := entries.Cursor()
	for key, row := c.Seek(visit[:]); key != nil; key, row = c.Next() {
		of, seq, ok := splitNumbered(key)
		if !ok || of != visit {
			break
		}
		e, err := openEntry(visit, seq, row)
		if err != nil {
			return nil, err
		}
		if seq != len(list)+1 || e.Prev != prev {
			return nil, damaged("entry %d of visit %s does not follow entry %d", seq, visit, len(list))
		}
		list, prev = append(list, e), e.Hash
	}
	if len(list) != h.seq || prev != h.last {
		return nil, damaged("visit %s has %d entries, %d were written", visit, len(list), h.seq)
	}
	return list, nil
}

// readEntry reads one line of a visit that is known to have it.
func readEntry(tx txn, visit id, seq int) (exam.Entry, error) {
	entries, err := bucket(tx, bucketEntries)
	if err != nil {
		return exam.Entry{}, err
	}
	row := entries.Get(visit.numbered(seq))
	if row == nil {
		return exam.Entry{}, damaged("entry %d of visit %s is missing", seq, visit)
	}
	return openEntry(visit, seq, row)
}

// openEntry checks a stored line against its digest and its key.
func openEntry(visit id, seq int, row []byte) (exam.Entry, error) {
	if len(row) < 32 || len(row) > maxRow {
		return exam.Entry{}, damaged("entry %d of visit %s is out of shape", seq, visit)
	}
	e, err := exam.Unseal(row[32:], exam.Hash(hex.EncodeToString(row[:32])))
	if err != nil {
		return e, fmt.Errorf("entry %d of visit %s: %w", seq, visit, err)
	}
	if e.Visit != visit.visit() || e.Seq != seq {
		return e, damaged("entry %d of visit %s is out of place", seq, visit)
	}
	return e, nil
}
