package storage

import (
	"errors"
	"runtime"
	"sync"

	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// assembly has work done on all cores and takes the results in the order in which it was
// handed in. Put, take and end run in one goroutine, so that they may use one transaction.
type assembly[In, Out any] struct {
	take    func(Out) error
	jobs    chan job[In, Out]
	pending []chan result[Out]
}

type job[In, Out any] struct {
	in  In
	out chan result[Out]
}

type result[Out any] struct {
	out Out
	err error
}

// newAssembly starts as many workers as there are functions; each is called by one worker.
func newAssembly[In, Out any](work []func(In) (Out, error), take func(Out) error) *assembly[In, Out] {
	a := &assembly[In, Out]{take: take, jobs: make(chan job[In, Out])}
	for _, do := range work {
		go func() {
			for j := range a.jobs {
				var r result[Out]
				fault := guarded(func() error {
					r.out, r.err = do(j.in)
					return nil
				})
				r.err = errors.Join(r.err, fault)
				j.out <- r
			}
		}()
	}
	return a
}

// put hands one piece in; it may take the results of earlier ones.
func (a *assembly[In, Out]) put(in In) error {
	for len(a.pending) >= 4*runtime.GOMAXPROCS(0) {
		if err := a.takeFirst(); err != nil {
			return err
		}
	}
	j := job[In, Out]{in, make(chan result[Out], 1)}
	a.pending = append(a.pending, j.out)
	a.jobs <- j
	return nil
}

func (a *assembly[In, Out]) takeFirst() error {
	r := <-a.pending[0]
	a.pending = a.pending[1:]
	if r.err != nil {
		return r.err
	}
	return a.take(r.out)
}

// end takes what is left and lets the workers go; err is why no more was put in.
func (a *assembly[In, Out]) end(err error) error {
	close(a.jobs)
	for len(a.pending) > 0 {
		if err == nil {
			err = a.takeFirst()
		} else {
			<-a.pending[0] // no worker is left behind at work
			a.pending = a.pending[1:]
		}
	}
	return err
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
				beside = append(beside, newTxn(t, r.book, r.key()))
			}
			unlock()
			return do(tx)
		})
	}
	return r.explain(r.run(begin, func(tx txn) error { return fn(tx, beside) }))
}

// newTxn is a transaction that reads.
func newTxn(t *bbolt.Tx, b book, key []byte) txn {
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
