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

// catchFaults runs work that reads mapped memory. A page that is no longer in the
// file raises a memory fault, and a page of rubbish an assertion: both become
// an error that wraps exam.ErrDamaged instead of the end of the program.
func catchFaults(work func() error) (err error) {
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

// key is the public key of this machine; nil for none.
func (r *Record) key() []byte {
	if r.machine == nil {
		return nil
	}
	return r.machine.public()
}

// update runs fn in a write transaction; when it returns nil, what fn wrote is
// on the disk. Nothing is written into a file whose pages do not add up.
func (r *Record) update(fn func(txn) error) error {
	if err := r.writable(); err != nil {
		return err
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	return r.explain(r.run(r.db.Update, func(tx txn) error {
		tx.w = &writer{machine: r.machine, own: map[namespace]*ownLog{}}
		if err := fn(tx); err != nil {
			return err
		}
		return tx.w.finish(tx)
	}))
}

// writable says why nothing can be written; nil where it can.
func (r *Record) writable() error {
	if r.beside {
		return fmt.Errorf("%s is %w: nothing was changed; close the other one, then start again", r.path, exam.ErrInUse)
	}
	if r.readOnly {
		return fmt.Errorf("the record was opened for reading only: nothing was changed")
	}
	if r.noKey != nil {
		return r.noKey
	}
	if err := r.atItsPlace(); err != nil {
		return err
	}
	return r.inspectFirst()
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
	return fmt.Errorf("%w; nothing more is saved. %s was moved or removed, or its drive pulled out, while the program ran. "+
		"Earlier entries are in that file: put it back and start again", ErrGone, r.path)
}

// lookFirst is the size of a file, in bytes, up to which every page is looked at before
// the first write. A larger one is looked at while the program is at work: its branches
// and its list of free pages were looked at when it was opened, and what a write touches
// is read by that write.
const lookFirst = 64 << 20

// Warm looks at every page of the file now, once. A program that has nothing else to do
// calls it early. It runs beside reading and writing; where it finds damage nothing more
// is written.
func (r *Record) Warm() error {
	if r.readOnly {
		return nil
	}
	r.looking.Lock()
	defer r.looking.Unlock()
	if r.inspected.Load() {
		return r.explain(r.damage())
	}
	err := r.inspectBeside()
	for errors.Is(err, errMoved) {
		err = r.inspectBeside()
	}
	if err != nil && !errors.Is(err, exam.ErrDamaged) {
		return r.explain(err)
	}
	if err != nil {
		r.harmed.Store(&err)
	}
	r.inspected.Store(true)
	return r.explain(err)
}

// damage is what a look at the pages found; nil for nothing.
func (r *Record) damage() error {
	if err := r.harmed.Load(); err != nil {
		return *err
	}
	return nil
}

// inspectBeside looks at the pages as a reader sees them, which no writer changes before
// that reader is done.
func (r *Record) inspectBeside() error {
	if r.stuck.Load() {
		return damaged("an earlier read of it failed")
	}
	return catchFaults(func() error {
		tx, err := r.db.Begin(false)
		if err != nil {
			return err //nolint:wrapcheck // explained by the caller
		}
		defer func() { _ = tx.Rollback() }()
		m, err := readMetaOf(r.file, uint64(tx.ID()))
		if err != nil {
			return err
		}
		return r.inspectAt(m, true)
	})
}

// inspectFirst looks at a small file before it is written to for the first time.
func (r *Record) inspectFirst() error {
	if !r.inspected.Load() && r.opened.Size() <= r.lookFirst {
		return r.Warm()
	}
	return r.explain(r.damage())
}

func (r *Record) run(transact func(func(*bbolt.Tx) error) error, fn func(txn) error) error {
	if r.stuck.Load() {
		return damaged("an earlier read of it failed")
	}
	entered := false
	err := catchFaults(func() error {
		return transact(func(tx *bbolt.Tx) error {
			entered = true
			return fn(newTxn(tx, r.namespace, r.key()))
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
	return fmt.Errorf("%s: %w; nothing in it was changed. Keep a copy of the file. "+
		"Run \"loosebox check\" to list the damage, and restore a backup", path, err)
}
