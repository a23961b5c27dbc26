package storage

import (
	"cmp"
	"context"
	"fmt"

	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// rebuild makes one book's derived rows again, in one transaction.
func rebuild(ctx context.Context, tx txn) (totals, error) {
	old, err := readTotals(tx)
	if err != nil {
		old = totals{} // the row is made again
	}
	if err := emptyDerived(tx); err != nil {
		return totals{}, err
	}
	var lines []located // nothing is written while the logs are read: pages may move
	if err := indexLogs(ctx, tx, func(list []located) error { lines = append(lines, list...); return nil }); err != nil {
		return totals{}, err
	}
	if err := putAll(tx, lines); err != nil {
		return totals{}, err
	}
	if _, err := regroup(tx); err != nil {
		return totals{}, err
	}
	if err := deriveSettings(tx); err != nil {
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
// chain and its signature; flush writes what was gathered.
func indexLogs(ctx context.Context, tx txn, flush func([]located) error) error {
	left, err := readEnded(tx)
	if err != nil {
		return err
	}
	rows, err := logsOf(tx)
	if err != nil {
		return err
	}
	done, all := 0, 0
	for _, log := range rows {
		all += int(log.N - log.Base) //nolint:gosec // lines of one record
	}
	x := indexing{flush: flush}
	for _, log := range rows {
		upTo := left.upTo(log)
		err := eachLooked(tx, log, locating(tx.book, log, upTo), func(l looked[locatedLines]) error {
			if err := ctx.Err(); err != nil {
				return err
			}
			done += len(l.Cores)
			progress.Say(ctx, "lines", done, all)
			if l.what.err != nil {
				return l.what.err
			}
			return x.add(l.what.lines)
		})
		if err != nil {
			return err
		}
	}
	return x.end()
}

type locatedLines struct {
	lines []located
	err   error
}

// locating verifies a segment and reads what its lines are about, up to a record.
func locating(b book, log *logRow, upTo uint64) func(signedlog.Segment, []signedlog.Digest) locatedLines {
	return func(s signedlog.Segment, digests []signedlog.Digest) (out locatedLines) {
		if err := s.VerifyBy(digests); err != nil {
			out.err = damaged("%v", err)
			return out
		}
		for i, core := range s.Cores {
			n := s.First + uint64(i)
			if n > upTo {
				break
			}
			var wrong error
			err := takeLine(log, n, digests[i], core, func(l line) {
				var at located
				at, wrong = locate(b, l)
				out.lines = append(out.lines, at)
			})
			if out.err = cmp.Or(err, wrong); out.err != nil {
				return out
			}
		}
		return out
	}
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
