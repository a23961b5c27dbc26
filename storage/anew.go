package storage

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// Rebuild makes everything that is derived again from the logs, and returns the number of
// visits and of rehearsals. It writes a new file beside the record in transactions of bounded
// size; the file takes the record's place when it is whole. Where a line is damaged or
// missing the error wraps exam.ErrDamaged, and the record stays as it was. No other goroutine
// may use the record meanwhile.
func (r *Record) Rebuild(ctx context.Context) (real, rehearsed int, err error) {
	if err := r.writable(); err != nil {
		return 0, 0, err
	}
	r.writing.Lock()
	defer r.writing.Unlock()
	fresh, err := r.beginAnew()
	if err != nil {
		return 0, 0, fmt.Errorf("rebuild: nothing was changed: %w", err)
	}
	n, err := fresh.derive(ctx)
	if err != nil && !errors.Is(err, exam.ErrDamaged) {
		err = fmt.Errorf("the record is as it was: %w", err)
	}
	if err == nil {
		err = r.replace(fresh)
	}
	if err != nil {
		return 0, 0, fmt.Errorf("rebuild: %w", r.explain(errors.Join(err, fresh.drop())))
	}
	return n[visitsNamespace].visits, n[rehearsalsNamespace].visits, nil
}

// anew is a file that is being made beside a record.
type anew struct {
	of   *Record
	into *Record // the new file
}

// atOnce is how many horses or visits, and somewhat how many bytes of the logs, one
// transaction of a new file takes.
const (
	atOnce      = 1000
	atOnceBytes = 8 << 20
)

// beginAnew makes an empty file in the record's folder.
func (r *Record) beginAnew() (*anew, error) {
	at, err := filepath.EvalSymlinks(r.path)
	if err != nil {
		return nil, err
	}
	f, err := os.CreateTemp(filepath.Dir(at), FileName+".new-*")
	if err != nil {
		return nil, err
	}
	if err := f.Close(); err != nil {
		return nil, errors.Join(err, os.Remove(f.Name()))
	}
	h := &holding{path: f.Name(), newID: r.newID, machine: r.machine, keys: r.keys, lookFirst: r.lookFirst}
	h.db, err = bbolt.Open(f.Name(), fileMode, &bbolt.Options{
		FreelistType: bbolt.FreelistMapType, NoStatistics: true, NoSync: true, // synced when it is whole
		InitialMmapSize: room(r.path), Timeout: defaultWait,
	})
	if err != nil {
		return nil, errors.Join(err, os.Remove(f.Name()))
	}
	h.db.AllocSize = 1 << 20
	return &anew{r, &Record{h, r.namespace}}, nil
}

// drop removes the file, where it did not take the record's place.
func (a *anew) drop() error {
	err := errors.Join(a.into.db.Close(), os.Remove(a.into.path))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// write runs one transaction in the new file.
func (a *anew) write(fn func(txn) error) error { return a.into.run(a.into.db.Update, fn) }

// replace puts the new file in the place of the record's and opens it. Where an open file
// cannot be replaced the record is closed before.
func (r *Record) replace(a *anew) error {
	if err := errors.Join(a.into.db.Sync(), a.into.db.Close()); err != nil {
		return fmt.Errorf("write the new file: %w", err)
	}
	at, err := filepath.EvalSymlinks(r.path)
	if err != nil {
		return err
	}
	if info, err := os.Stat(at); err == nil {
		_ = os.Chmod(a.into.path, info.Mode().Perm()) // the mode is the file's own to keep
	}
	err = os.Rename(a.into.path, at)
	old := catchFaults(r.db.Close)
	if err != nil {
		err = os.Rename(a.into.path, at)
	}
	again, opened := open(r.path, Options{NewID: r.newID})
	if err := errors.Join(err, old, opened); err != nil {
		return err
	}
	r.db, r.file, r.opened = again.db, again.file, again.opened
	return syncFolder(filepath.Dir(at))
}
