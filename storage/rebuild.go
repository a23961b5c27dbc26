package storage

import (
	"cmp"
	"context"
	"fmt"

	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// Rebuild makes everything that is derived again from the logs, in one transaction, and
// returns the number of visits and of rehearsals. Where a line is damaged or missing the
// error wraps exam.ErrDamaged and nothing is written.
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

// rebuild makes one book's derived rows again.
func rebuild(ctx context.Context, tx txn) (totals, error) {
	old, err := readTotals(tx)
	if err != nil {
		old = totals{} // the row is made again
	}
	if err := emptyDerived(tx); err != nil {
		return totals{}, err
	}
	if err := indexLogs(ctx, tx); err != nil {
		return totals{}, err
	}
	if _, err := regroup(tx); err != nil {
		return totals{}, err
	}
	if err := eachKey(tx, bucketHorseLines, func(horse id) error {
		_, err := deriveHorse(tx, horse)
		return err
	}); err != nil {
		return totals{}, err
	}
	done := 0
	err = eachKey(tx, bucketVisits, func(visit id) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		done++
		progress.Say(ctx, "visits", done, old.visits)
		data, err := getRow(tx, bucketVisits, visit[:])
		if err != nil {
			return err
		}
		h, err := decodeHead(data)
		if err != nil {
			return err
		}
		return deriveVisit(tx, visit, h.where)
	})
	if err != nil {
		return totals{}, err
	}
	if err := eachKey(tx, bucketHorseLines, func(horse id) error { return outline(tx, horse) }); err != nil {
		return totals{}, err
	}
	n, err := readTotals(tx)
	if err == nil && (n.visits < old.visits || n.horses < old.horses) {
		err = damaged("%d horses and %d visits are there, %d and %d were written", n.horses, n.visits, old.horses, old.visits)
	}
	return n, err
}

func emptyDerived(tx txn) error {
	for _, name := range bookBuckets() {
		full := []byte(tx.named(name))
		if tx.Bucket(full) != nil {
			if err := tx.DeleteBucket(full); err != nil {
				return fmt.Errorf("empty %s: %w", full, err)
			}
		}
		if _, err := tx.CreateBucket(full); err != nil {
			return fmt.Errorf("empty %s: %w", full, err)
		}
	}
	if err := writeWaiting(tx, nil); err != nil {
		return err
	}
	if tx.book == bookVisits {
		for _, name := range []string{rowJoins, rowGroups} {
			if err := putRow(tx, bucketMeta, []byte(name), nil); err != nil {
				return err
			}
		}
	}
	return totals{}.write(tx)
}

// indexLogs notes where each line of the book's logs lies, each log verified by its
// chain and its signature.
func indexLogs(ctx context.Context, tx txn) error {
	left, err := readEnded(tx)
	if err != nil {
		return err
	}
	done, all := 0, 0
	if err := eachLog(tx, func(log *logRow) error {
		if log.Book == tx.book {
			all += int(log.N - log.Base) //nolint:gosec // lines of one record
		}
		return nil
	}); err != nil {
		return err
	}
	return eachLog(tx, func(log *logRow) error {
		if log.Book != tx.book {
			return nil
		}
		upTo := left.upTo(log)
		return eachSegment(tx, log, func(s signedlog.Segment) error {
			if err := ctx.Err(); err != nil {
				return err
			}
			done += len(s.Cores)
			progress.Say(ctx, "lines", done, all)
			digests, err := s.Verify()
			if err != nil {
				return damaged("%v", err)
			}
			for i, core := range s.Cores {
				n := s.First + uint64(i)
				if n > upTo {
					return nil
				}
				var wrong error
				err := takeLine(log, n, digests[i], core, func(l line) { _, _, wrong = index(tx, l) })
				if err := cmp.Or(err, wrong); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// eachKey calls fn for every horse or visit of a bucket; fn may write into it.
func eachKey(tx txn, name string, fn func(id) error) error {
	var keys []id
	err := eachRow(tx, name, func(key, _ []byte) error {
		if len(key) != 16 {
			return damaged("a row of %s has a wrong key", tx.named(name))
		}
		keys = append(keys, id(key))
		return nil
	})
	if err != nil {
		return err
	}
	for _, k := range keys {
		if err := fn(k); err != nil {
			return err
		}
	}
	return nil
}
