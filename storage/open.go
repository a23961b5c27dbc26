package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
	"time"

	"github.com/google/uuid"
	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"loosebox/exam"
)

// defaultWait is how long another run is waited for.
const defaultWait = 2 * time.Second

// Open opens the record in a folder and makes folder and file where they are
// missing, its owner's alone. A folder that was there keeps its mode; one that holds
// other things and no record is refused.
//
// Errors wrap exam.ErrInUse where another run holds the record, exam.ErrDamaged
// where the file is not what was written, exam.ErrNewer where a newer version
// wrote it, exam.ErrNotFound and fs.ErrNotExist where there is none to read,
// ErrForeign where the folder is another's, ErrNotWritable where it can perhaps be
// opened for reading. In each case the file is left exactly
// as it was.
func Open(dir string, o Options) (*Record, error) {
	path := filepath.Join(dir, FileName)
	if err := prepare(dir, path, o); err != nil {
		return nil, err
	}
	if o.NewID == nil {
		o.NewID = func() string { return uuid.Must(uuid.NewV7()).String() }
	}
	r, err := openOrBeside(dir, path, o)
	if err != nil {
		return nil, err
	}
	o.ReadOnly = r.readOnly
	if r.keys = o.KeyDir; r.keys == "" {
		r.keys = dir
	}
	switch {
	case o.Keyless:
	case o.ReadOnly:
		r.machine, _ = readMachine(filepath.Join(r.keys, KeyName)) // it says whose a log is; a reader needs no key
	default:
		sweep(dir)
		// Without a key the record can still be read: the reason meets the first write.
		r.machine, r.broken, r.noKey = loadMachine(r.keys)
	}
	if err := r.accept(); err != nil {
		return nil, errors.Join(err, r.Close())
	}
	if r.machine != nil && !o.ReadOnly {
		old, err := r.oldCommon() // before the first write: a file that cannot be opened is not touched
		if err == nil {
			err = r.compareMarks()
		}
		if err == nil {
			err = r.takeOldCommon(old)
		}
		if err != nil {
			return nil, errors.Join(err, r.Close())
		}
	}
	return r, nil
}

// openOrBeside opens the file, or a copy of what another run holds.
func openOrBeside(dir, path string, o Options) (*Record, error) {
	if !o.Beside {
		return open(path, o)
	}
	r, err := openBeside(dir, o)
	if err == nil {
		r.beside = true
	}
	if errors.Is(err, errNoHost) {
		return open(path, o)
	}
	return r, err
}

// open opens the file and takes its lock.
func open(path string, o Options) (*Record, error) {
	r := &Record{&holding{path: path, newID: o.NewID, readOnly: o.ReadOnly, lookFirst: lookFirst}, visitsNamespace}
	wait := o.Wait
	if wait <= 0 {
		wait = defaultWait
	}
	err := catchFaults(func() (err error) {
		r.db, err = bbolt.Open(path, fileMode, &bbolt.Options{
			Timeout:         wait,
			ReadOnly:        o.ReadOnly,
			FreelistType:    bbolt.FreelistMapType,
			NoStatistics:    true,
			InitialMmapSize: room(path),
			OpenFile: func(name string, flag int, mode fs.FileMode) (*os.File, error) {
				f, err := os.OpenFile(name, flag&^os.O_CREATE, mode)
				r.file = f
				return f, err
			},
		})
		return err
	})
	if err == nil {
		r.opened, err = r.file.Stat()
	}
	if err == nil {
		r.db.AllocSize = int(min(max(r.opened.Size()/16, 64<<10), 16<<20)) // by how much the file grows at once
	}
	if err == nil {
		return r, nil
	}
	if r.file != nil {
		release(r.file) // closed already unless a fault struck
	}
	return nil, explainOpen(path, err, o.ReadOnly)
}

// room is how many bytes of the file are mapped at once: more than it has, so that a
// writer that makes it larger need not wait until every reader is done.
func room(path string) int {
	info, err := os.Stat(path)
	if err != nil || runtime.GOOS == "windows" || strconv.IntSize < 64 { // there the file grows with its map
		return 0
	}
	return int(2*info.Size() + 64<<20)
}

func release(f *os.File) {
	unlock(f)
	_ = f.Close()
}

// ErrNotWritable is wrapped where the record's file may not be written: its rights or
// the disk do not allow it.
var ErrNotWritable = errors.New("may only be read")

// mayNot says that rights or a read-only disk are why a file could not be opened.
func mayNot(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

func explainOpen(path string, err error, reading bool) error {
	var pathErr *fs.PathError
	switch {
	case mayNot(err) && !reading:
		return fmt.Errorf("%s %w here; nothing was changed. It can be listed, shown, checked, exported and backed up. "+
			"To write, check the folder's owner and permissions, or copy the folder to another disk: %w", path, ErrNotWritable, err)
	case errors.Is(err, berrors.ErrTimeout):
		return fmt.Errorf("%s is %w: nothing was changed; close the other one, then start again", path, exam.ErrInUse)
	case errors.Is(err, exam.ErrDamaged):
		return explainDamage(path, err)
	case errors.As(err, &pathErr):
		return fmt.Errorf("the record cannot be opened; nothing was changed. Check the folder's owner and permissions, or name another folder with --data: %w", err)
	default:
		return explainDamage(path, damaged("it is no record (%v)", err))
	}
}

// accept looks at an opened file before anything in it is believed.
func (r *Record) accept() error {
	if err := r.inspect(false); err != nil {
		return r.explain(err)
	}
	version := 0
	err := r.view(func(tx txn) (err error) {
		version, err = readSchema(tx)
		return err
	})
	switch {
	case err != nil:
		return err
	case version > newestSchema:
		return fmt.Errorf("%s was %w of loosebox (schema %d, this one knows %d): nothing was changed; use that version",
			r.path, exam.ErrNewer, version, newestSchema)
	case version < newestSchema && r.readOnly:
		return fmt.Errorf("%s is of an older version (schema %d). Open it once for writing to update it. "+
			"If that is not possible, copy the folder to another disk. Nothing was changed", r.path, version)
	case version < newestSchema:
		return r.bringUp(version)
	}
	return nil
}
