package storage

import (
	"context"
	"fmt"

	"loosebox/exam"
)

// Rebuild makes everything that is derived again from the lines of the record,
// in one transaction, and returns the number of visits and of rehearsals. Where
// a line is damaged or missing the error wraps exam.ErrDamaged and nothing is
// written.
func (r *Record) Rebuild(ctx context.Context) (real, rehearsed int, err error) {
	var n, m totals
	err = r.update(func(tx txn) (err error) {
		if n, err = rebuild(ctx, tx.in(bookVisits)); err != nil {
			return err
		}
		m, err = rebuild(ctx, tx.in(bookRehearsals))
		return err
	})
	if err != nil {
		return 0, 0, fmt.Errorf("rebuild: %w", err)
	}
	return n.visits, m.visits, nil
}

// rebuild is also what a migration calls where entries fold to something new.
func rebuild(ctx context.Context, tx txn) (totals, error) {
	ends, err := knownEnds(tx)
	if err != nil {
		return totals{}, err
	}
	old, err := readTotals(tx)
	if err != nil {
		old = totals{} // the row is made again
	}
	if err := emptyDerived(tx); err != nil {
		return totals{}, err
	}
	summaries, err := rebuildVisits(ctx, tx, ends)
	if err != nil {
		return totals{}, err
	}
	n := totals{horses: len(summaries)}
	for horse, s := range summaries {
		n.visits += s.count()
		if err := s.write(tx, horse); err != nil {
			return totals{}, err
		}
	}
	if n.visits < old.visits || n.horses < old.horses {
		return totals{}, damaged("%d horses and %d visits are there, %d and %d were written", n.horses, n.visits, old.horses, old.visits)
	}
	return n, n.write(tx)
}

// knownEnds reads the heads that can still be read: they are what shows that
// the last lines of a visit are missing.
func knownEnds(tx txn) (map[id]head, error) {
	b, err := bucket(tx, bucketHeads)
	if err != nil {
		return nil, err
	}
	ends := map[id]head{}
	err = b.ForEach(func(key, row []byte) error {
		data, err := openRow(tx.named(bucketHeads), key, row)
		if err != nil || len(key) != 16 {
			return nil
		}
		if h, err := decodeHead(data); err == nil {
			ends[id(key)] = h
		}
		return nil
	})
	return ends, err
}

func emptyDerived(tx txn) error {
	for _, name := range []string{bucketHeads, bucketSummaries, bucketSnapshots} {
		full := []byte(tx.named(name))
		if err := tx.DeleteBucket(full); err != nil {
			return fmt.Errorf("empty %s: %w", full, err)
		}
		if _, err := tx.CreateBucket(full); err != nil {
			return fmt.Errorf("empty %s: %w", full, err)
		}
	}
	return nil
}

// rebuildVisits writes heads and snapshots and returns the summaries.
func rebuildVisits(ctx context.Context, tx txn, ends map[id]head) (map[id]*summary, error) {
	summaries := map[id]*summary{}
	err := eachHorse(tx, func(horse id, h exam.Horse, err error) error {
		if err != nil {
			return err
		}
		s := new(summary)
		summaries[horse] = s
		return s.setHorse(h)
	})
	if err != nil {
		return nil, err
	}
	err = eachVisit(ctx, tx, func(visit id, list []exam.Entry, broken []Broken) error {
		if len(broken) > 0 {
			return damaged("visit %s, entry %d: %s", visit, broken[0].Seq, broken[0].What)
		}
		v, err := exam.Fold(list)
		if err != nil {
			return fmt.Errorf("visit %s: %w", visit, err)
		}
		if err := belongs(tx, v); err != nil {
			return err
		}
		if end, ok := ends[visit]; ok && (end.seq != v.Entries || end.last != v.Last) {
			return damaged("visit %s has %d entries, %d were written", visit, v.Entries, end.seq)
		}
		delete(ends, visit)
		return rebuildVisit(tx, visit, v, summaries)
	})
	if err != nil {
		return nil, err
	}
	for visit := range ends {
		return nil, damaged("none of the entries of visit %s is there", visit)
	}
	return summaries, nil
}

func rebuildVisit(tx txn, visit id, v exam.Visit, summaries map[id]*summary) error {
	horse, ok := parseID(string(v.Horse.ID))
	s := summaries[horse]
	if !ok || s == nil {
		return damaged("the horse of visit %s is not in the record", visit)
	}
	s.addVisit(slotOf(visit, v.OpenedAt), !v.Closed())
	if !v.Stands() {
		s.strikeVisit(visit)
	}
	h := head{seq: v.Entries, last: v.Last, closed: v.Closed(), struck: !v.Stands(), horse: horse}
	if err := h.write(tx, visit); err != nil {
		return err
	}
	if !v.Closed() {
		return nil
	}
	return writeSnapshot(tx, visit, v)
}
