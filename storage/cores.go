package storage

import (
	"errors"
	"runtime"
	"sync"

	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/inorder"
	"loosebox/exam/signedlog"
)

// newAssembly begins work on all cores; a fault of the mapped file in it is an error.
func newAssembly[In, Out any](work []func(In) (Out, error), take func(Out) error) *inorder.Pool[In, Out] {
	safe := make([]func(In) (Out, error), len(work))
	for i, do := range work {
		safe[i] = func(in In) (out Out, err error) {
			fault := catchFaults(func() error {
				out, err = do(in)
				return nil
			})
			return out, errors.Join(err, fault)
		}
	}
	return inorder.Begin(safe, take)
}

// viewOnAll runs fn in a read transaction, with others of the same state beside it, one for
// each core.
func (r *Record) viewOnAll(fn func(tx txn, beside []txn) error) error {
	var beside []txn
	defer func() {
		for _, t := range beside {
			_ = t.Rollback()
		}
	}()
	begin := func(do func(*bbolt.Tx) error) error {
		r.writing.Lock() // nothing is written until all have begun
		unlock := sync.OnceFunc(r.writing.Unlock)
		defer unlock()
		return r.db.View(func(tx *bbolt.Tx) error {
			for range runtime.GOMAXPROCS(0) {
				t, err := r.db.Begin(false)
				if err != nil {
					return err //nolint:wrapcheck // explained by the caller
				}
				beside = append(beside, newTxn(t, r.namespace, r.key()))
			}
			unlock()
			return do(tx)
		})
	}
	return r.explain(r.run(begin, func(tx txn) error { return fn(tx, beside) }))
}

// newTxn is a transaction that reads.
func newTxn(t *bbolt.Tx, b namespace, key []byte) txn {
	return txn{t, b, nil, key, new(packCache), map[place]exam.Entry{}}
}

// packCache keeps the packs that a transaction opened last, and those that an import put: lines
// of one visit, and of those beside it, are in one pack. A pack is never changed.
type packCache struct {
	packs [8]opened
	next  int
	put   []opened
}

// opened is a pack with the digests of its records.
type opened struct {
	log uint32
	signedlog.Segment
	digests []signedlog.Digest
}

func (c *packCache) find(log uint32, n uint64) (opened, bool) {
	if c != nil {
		for _, list := range [][]opened{c.packs[:], c.put} {
			for i := range list {
				if p := &list[i]; p.log == log && len(p.Cores) > 0 && p.First <= n && n <= p.Last() {
					return *p, true
				}
			}
		}
	}
	return opened{}, false
}

func (c *packCache) keep(p opened) {
	if c != nil {
		c.packs[c.next%len(c.packs)] = p
		c.next++
	}
}
