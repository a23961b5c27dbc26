package storage

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"loosebox/exam"
)

// guarded runs work that reads mapped memory. A page that is no longer in the
// file raises a memory fault, and a page of rubbish an assertion: both become
// an error that wraps exam.ErrDamaged instead of the end of the program.
func guarded(work func() error) (err error) {
	old := debug.SetPanicOnFault(true)
	defer debug.SetPanicOnFault(old)
	defer func() {
		if p := recover(); p != nil {
			err = damaged("reading it stopped (%v)", p)
		}
	}()
	return work()
}

// view runs fn in a read transaction.
func (r *Record) view(fn func(txn) error) error {
	return r.explain(r.run(r.db.View, fn))
}

// update runs fn in a write transaction; when it returns nil, what fn wrote is
// on the disk. Nothing is written into a file whose pages do not add up.
func (r *Record) update(fn func(txn) error) error {
	if r.readOnly {
		return fmt.Errorf("the record was opened for reading only: nothing was changed")
	}
	if r.noKey != nil {
		return r.noKey
	}
	if err := r.atItsPlace(); err != nil {
		return err
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	if err := r.inspectOnce(); err != nil {
		return err
	}
	return r.explain(r.run(r.db.Update, fn))
}

// ErrGone is wrapped where the file is no longer where it was opened: what would be
// written into it now would be gone with the end of the program.
var ErrGone = errors.New("the record is no longer at its place")

// atItsPlace makes sure that the next start finds what is written now.
func (r *Record) atItsPlace() error {
	there, err := os.Stat(r.path)
	if err == nil && os.SameFile(there, r.opened) {
		return nil
	}
	return fmt.Errorf("%w, nothing more is stored: %s was moved, removed or its stick pulled out while the program ran; "+
		"what was stored before is in that file: put it back, and start again", ErrGone, r.path)
}

// Warm looks at every page of the file now. It is done before the first write
// anyway; a program that has nothing else to do does it earlier, so that the first
// answer does not wait for it. It may run beside everything else; a write that
// comes meanwhile waits for what is left of it.
func (r *Record) Warm() error {
	if r.readOnly {
		return nil
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	return r.inspectOnce()
}

// inspectOnce looks at the pages unless they were looked at; the writer's lock is held.
func (r *Record) inspectOnce() error {
	if r.inspected {
		return nil
	}
	if err := r.inspect(true); err != nil {
		return r.explain(err)
	}
	r.inspected = true
	return nil
}

func (r *Record) run(transact func(func(*bbolt.Tx) error) error, fn func(txn) error) error {
	if r.stuck.Load() {
		return damaged("an earlier read of it failed")
	}
	entered := false
	err := guarded(func() error {
		return transact(func(tx *bbolt.Tx) error {
			entered = true
			return fn(txn{tx, r.book, r.machine})
		})
	})
	// A fault before fn was called leaves the file's own locks held: a further
	// transaction would wait for ever.
	if !entered && errors.Is(err, exam.ErrDamaged) {
		r.stuck.Store(true)
	}
	return err
}

// explain says to a person what happened, what is safe and what to do.
func (r *Record) explain(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, berrors.ErrDatabaseNotOpen), errors.Is(err, os.ErrClosed):
		return fmt.Errorf("%w: nothing was changed", ErrNotOpen)
	case errors.Is(err, exam.ErrDamaged):
		return explainDamage(r.path, err)
	default:
		return err
	}
}

func explainDamage(path string, err error) error {
	return fmt.Errorf("%s: %w; nothing in it was changed: keep a copy of the file, "+
		"let \"loosebox check\" list what is broken, and go back to a backup", path, err)
}
