package storage

import (
	"bytes"
	"context"
	"runtime"

	"loosebox/exam/progress"
	"loosebox/exam/signedlog"
)

// looked is a segment of the record that was opened, with the digests of its records and
// what somebody wanted to know of it.
type looked[T any] struct {
	signedlog.Segment
	digests []signedlog.Digest
	what    T
}

// eachLooked calls fn for the packs of a row, and for its end, in their order, with look
// called of each segment before, on all cores: it must use no transaction.
func eachLooked[T any](tx txn, log *logRow, look func(signedlog.Segment, []signedlog.Digest) T, fn func(looked[T]) error) error {
	packs, err := bucket(tx, bucketPacks)
	if err != nil {
		return err
	}
	type row struct{ key, data []byte }
	open := func(r row) (l looked[T], err error) {
		if l.Segment, err = readPack(log, r.key, r.data); err == nil {
			l.digests = l.Digests()
			l.what = look(l.Segment, l.digests)
		}
		return l, err
	}
	work := make([]func(row) (looked[T], error), runtime.GOMAXPROCS(0))
	for i := range work {
		work[i] = open
	}
	next, prev := log.Base+1, digestOf(log.Before)
	a := newAssembly(work, func(l looked[T]) error {
		if l.First != next || l.Prev != prev {
			return damaged("records from %d on of log %s are missing", next, log.name)
		}
		next, prev = l.Last()+1, l.digests[len(l.digests)-1]
		return fn(l)
	})
	c := packs.Cursor()
	for key, data := c.Seek(place{log.Number, 1}.key()); key != nil && err == nil; key, data = c.Next() {
		if p, ok := splitPlace(key); !ok || p.log != log.Number {
			break
		}
		if data, err = openRow(bucketPacks, key, data); err == nil {
			err = a.Put(row{key, data})
		}
	}
	if err := a.End(err); err != nil {
		return err
	}
	if next != log.Packed+1 || prev != log.packedLast() {
		return damaged("records from %d on of log %s are missing", next, log.name)
	}
	return eachOfTail(tx, log, next, prev, look, fn)
}

// eachOfTail is eachLooked of what is behind the packs.
func eachOfTail[T any](tx txn, log *logRow, next uint64, prev signedlog.Digest, look func(signedlog.Segment, []signedlog.Digest) T, fn func(looked[T]) error) error {
	end := looked[T]{Segment: signedlog.Segment{
		Log: log.name, Public: log.Public, Nonce: log.nonce(), First: next, Prev: prev, Signature: log.Signature, Rehearsals: log.Namespace == rehearsalsNamespace,
	}}
	err := eachTail(tx, log, next, func(_ place, d signedlog.Digest, core []byte) error {
		end.Cores, end.digests, prev = append(end.Cores, bytes.Clone(core)), append(end.digests, d), d
		return nil
	})
	if err != nil {
		return err
	}
	if end.First+uint64(len(end.Cores)) != log.N+1 || prev != log.last() {
		return damaged("log %s ends before record %d", log.name, log.N)
	}
	if len(end.Cores) == 0 {
		return nil
	}
	end.what = look(end.Segment, end.digests)
	return fn(end)
}

// Segments hands on every log of the record, each in segments from its first record on, a
// branch behind what it leaves; visits before rehearsals. Who listens to the context is told how many lines are done.
func (r *Record) Segments(ctx context.Context, take func(signedlog.Segment) error) error {
	nothing := func(signedlog.Segment, []signedlog.Digest) struct{} { return struct{}{} }
	return EachSegment(ctx, r, nothing, func(s signedlog.Segment, _ struct{}) error { return take(s) })
}

// EachSegment is Segments with look called of each segment before, with the digests of its
// records, on all cores.
func EachSegment[T any](ctx context.Context, r *Record, look func(signedlog.Segment, []signedlog.Digest) T, take func(signedlog.Segment, T) error) error {
	logs, err := r.Logs()
	if err != nil {
		return err
	}
	done, all := 0, 0
	for _, l := range logs {
		all += int(l.N - l.Base) //nolint:gosec // lines of one record
	}
	return r.view(func(tx txn) error {
		for _, b := range namespaces() {
			rows, err := logsOf(tx.in(b))
			if err != nil {
				return err
			}
			for _, log := range rows {
				err := eachLooked(tx, log, look, func(l looked[T]) error {
					if err := ctx.Err(); err != nil {
						return err
					}
					done += len(l.Cores)
					progress.Say(ctx, "lines", min(done, all), all)
					return take(l.Segment, l.what)
				})
				if err != nil {
					return err
				}
			}
		}
		return nil
	})
}
