package storage

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Outline lists a horse's visits that stand, newest first, as lists and rounds need them:
// closed ones from one row and, where they were opened since a moment, from their snapshot;
// open ones from their lines; none for a horse that is not in the record.
func (r *Record) Outline(which exam.HorseID, since time.Time) ([]exam.Visit, error) {
	horse, ok := parseID(string(which))
	if !ok {
		return nil, nil
	}
	var visits []exam.Visit
	err := r.view(func(tx txn) error {
		all, err := joined(tx, horse)
		if err != nil {
			return err
		}
		for _, h := range all {
			s, err := readSummary(tx, h)
			if errors.Is(err, exam.ErrNotFound) {
				return nil
			}
			if err != nil {
				return err
			}
			closed, err := readOutline(tx, h)
			if err != nil {
				return err
			}
			for i, v := range closed {
				if v.OpenedAt.Before(since) {
					continue
				}
				visit, ok := parseID(string(v.ID))
				if !ok {
					return damaged("the outline of horse %s cannot be read", h)
				}
				if closed[i], err = listed(tx, visit); err != nil {
					return err
				}
			}
			open, err := readSlots(tx, s.open())
			if err == nil {
				err = onLaptops(tx, open, func(exam.Visit) bool { return true })
			}
			if err != nil {
				return err
			}
			visits = append(append(visits, closed...), open...)
		}
		slices.SortFunc(visits, func(a, b exam.Visit) int {
			return cmp.Or(b.OpenedAt.Compare(a.OpenedAt), cmp.Compare(b.ID, a.ID))
		})
		return asOne(tx, visits)
	})
	return visits, err
}

// outline writes the outline of a horse's closed visits.
func outline(tx txn, horse id) error {
	s, err := readSummary(tx, horse)
	if err != nil {
		return err
	}
	s.Stamp++
	slots, err := closedSlots(tx, horse)
	if err != nil {
		return err
	}
	before, err := readOutline(tx, horse)
	if err != nil {
		before = nil // the row is made again
	}
	old := make(map[exam.VisitID]exam.Visit, len(before))
	for _, v := range before {
		old[v.ID] = v
	}
	visits := make([]exam.Visit, len(slots))
	for i, s := range slots {
		h, err := readHead(tx, s.visit)
		if err != nil {
			return err
		}
		v, ok := old[s.visit.visit()]
		if !ok || v.Last != h.last || v.Entries != h.seq {
			if v, err = listed(tx, s.visit); err != nil {
				return err
			}
		}
		visits[i] = v.Thin()
	}
	if s.AtOnce, err = openAtOnce(tx, visits); err != nil {
		return err
	}
	if err := s.write(tx, horse); err != nil {
		return err
	}
	data, err := encoder().Marshal(visits)
	if err != nil {
		return fmt.Errorf("write outline: %w", err)
	}
	return putRow(tx, bucketOutlines, horse[:], signedlog.Compress(data))
}

// openAtOnce are the visits of an outline that were open at once on two laptops (summary.AtOnce).
func openAtOnce(tx txn, visits []exam.Visit) (list []byte, err error) {
	opener := func(v exam.VisitID) (key []byte) {
		visit, ok := parseID(string(v))
		if !ok || err != nil {
			return nil
		}
		h, e := readHead(tx, visit)
		if e == nil && len(h.where) > 0 {
			var l *logRow
			if l, e = numberedLog(tx, h.where[0].log); e == nil {
				key = l.Public
			}
		}
		err = e
		return key
	}
	for _, v := range exam.AtOnce(visits, func(a, b exam.VisitID) bool { return !bytes.Equal(opener(a), opener(b)) }) {
		visit, ok := parseID(string(v))
		if !ok {
			return nil, damaged("the outline of a horse cannot be read")
		}
		list = append(list, visit[:]...)
	}
	return list, err
}

// closedSlots are the horse's visits that stand and are closed, newest first.
func closedSlots(tx txn, horse id) ([]slot, error) {
	s, err := readSummary(tx, horse)
	if err != nil {
		return nil, err
	}
	open := s.openSet()
	return slices.DeleteFunc(s.newest(0), func(v slot) bool { return open[v.visit] }), nil
}

// readOutline reads a horse's outline; none where nothing of it was closed yet.
func readOutline(tx txn, horse id) ([]exam.Visit, error) {
	data, err := getRow(tx, bucketOutlines, horse[:])
	if err != nil || data == nil {
		return nil, err
	}
	raw, err := signedlog.Decompress(data)
	var visits []exam.Visit
	if err == nil {
		err = decoder().Unmarshal(raw, &visits)
	}
	if err != nil {
		return nil, damaged("the outline of horse %s cannot be read (%v)", horse, err)
	}
	return visits, nil
}

// thinSum is the beginning of the SHA-256 of a visit as an outline holds it.
type thinSum [16]byte

func sumThin(v exam.Visit) (thinSum, error) {
	data, err := encoder().Marshal(v)
	if err != nil {
		return thinSum{}, fmt.Errorf("write outline: %w", err)
	}
	sum := sha256.Sum256(data)
	return thinSum(sum[:]), nil
}

// with is the sum of one visit more. Those of a horse are summed in the order of their identities, as they lie in the file, so
// that a check keeps one sum for each horse and none for each visit.
func (s thinSum) with(visit id, next thinSum) thinSum {
	sum := sha256.Sum256(slices.Concat(s[:], visit[:], next[:]))
	return thinSum(sum[:])
}

// outlineFits says whether a horse's outline is of its closed visits as they stand; sum is that of their folds.
func outlineFits(tx txn, horse id, s *summary, sum thinSum) error {
	have, err := readOutline(tx, horse)
	if err != nil {
		return err
	}
	want, err := closedSlots(tx, horse)
	if err != nil {
		return err
	}
	fits := len(have) == len(want)
	thin := make(map[id]thinSum, len(want))
	for i := 0; fits && i < len(want); i++ {
		fits = have[i].ID == want[i].visit.visit()
		if thin[want[i].visit], err = sumThin(have[i]); err != nil {
			return err
		}
	}
	var all thinSum
	for _, v := range slices.SortedFunc(maps.Keys(thin), func(a, b id) int { return bytes.Compare(a[:], b[:]) }) {
		all = all.with(v, thin[v])
	}
	fits = fits && all == sum
	if !fits {
		return damaged("the outline of horse %s does not fit its %d visits", horse, s.count())
	}
	both, err := openAtOnce(tx, have)
	if err == nil && !bytes.Equal(both, s.AtOnce) {
		err = damaged("the summary of horse %s does not fit its visits", horse)
	}
	return err
}
