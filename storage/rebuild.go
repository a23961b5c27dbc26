package storage

import (
	"cmp"
	"context"
	"fmt"

	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

func emptyDerived(tx txn) error {
	for _, name := range namespaceBuckets() {
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
	if tx.namespace == visitsNamespace {
		for _, name := range []string{rowJoins, rowGroups} {
			if err := putRow(tx, bucketMeta, []byte(name), nil); err != nil {
				return err
			}
		}
	}
	return totals{}.write(tx)
}

// indexLogs notes where each line of the namespace's logs lies, each log verified by its
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
		err := eachLooked(tx, log, locating(tx.namespace, log, upTo), func(l looked[locatedLines]) error {
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
func locating(b namespace, log *logRow, upTo uint64) func(signedlog.Segment, []signedlog.Digest) locatedLines {
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
