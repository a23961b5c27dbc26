package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"go.etcd.io/bbolt"
)

// prepare sees to it that there is a file to open and that only its owner can
// read it. It never touches what is in a file, nor the rights of a folder that was
// there before.
func prepare(dir, path string, o Options) error {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) && (o.ReadOnly || o.MustExist) {
		return &NoRecordError{Folder: dir}
	}
	if !o.ReadOnly {
		if err := os.MkdirAll(dir, folderMode); err != nil {
			return fmt.Errorf("the record's folder cannot be made, nothing was changed; name another one with --data: %w", err)
		}
	}
	if shared(dir) && !o.ReadOnly {
		return fmt.Errorf("%s is a folder that everybody shares, nothing was changed: name a folder of your own with --data", dir)
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := onlyOurs(dir); err != nil && !(o.AmongOthers && errors.Is(err, ErrForeign)) {
			return err
		}
		if err := create(dir, path); err != nil {
			return fmt.Errorf("a new record cannot be made in %s; nothing was changed. "+
				"Check the folder's owner and permissions, or name another folder with --data: %w", dir, err)
		}
	case err != nil:
		return fmt.Errorf("there is no record to open, nothing was changed: %w", err)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is not a file, nothing was changed: move it away or name another folder with --data", path)
	case info.Size() == 0:
		return explainDamage(path, damaged("the file is empty"))
	}
	if o.ReadOnly {
		return nil
	}
	return ownerOnly(path)
}

// shared says that a folder is meant for everybody, like the system's folder of
// temporary files: its rights are not ours to narrow.
func shared(dir string) bool {
	info, err := os.Stat(dir)
	return err == nil && info.Mode()&fs.ModeSticky != 0
}

// ownerOnly takes everybody else's rights to one file away.
func ownerOnly(name string) error {
	info, err := os.Stat(name)
	if err != nil || runtime.GOOS == "windows" || info.Mode().Perm()&0o077 == 0 {
		return err
	}
	if err := os.Chmod(name, info.Mode().Perm()&fileMode); mayNot(err) {
		return fmt.Errorf("%s %w: it can be read by others and that cannot be changed: %w", name, ErrNotWritable, err)
	} else if err != nil {
		return fmt.Errorf("%s can be read by others and that cannot be changed: %w", name, err)
	}
	return nil
}

// create writes a new record under a temporary name and gives it its own name
// when it is whole: a power cut leaves either no record or a good one. A record
// that another run made meanwhile is kept.
func create(dir, path string) error {
	f, err := os.CreateTemp(dir, FileName+".new-*")
	if err != nil {
		return err
	}
	temp := f.Name()
	defer func() { _ = os.Remove(temp) }()
	if err := f.Close(); err != nil {
		return err
	}
	db, err := bbolt.Open(temp, fileMode, &bbolt.Options{FreelistType: bbolt.FreelistMapType, Timeout: defaultWait})
	if err != nil {
		return err
	}
	err = errors.Join(db.Update(func(tx *bbolt.Tx) error { return migrate(txn{Tx: tx}, 0) }), db.Sync(), db.Close())
	if err != nil {
		return err
	}
	if err := settle(temp, path); err != nil {
		return err
	}
	return syncFolder(dir)
}

// settle gives the new file its name without ever replacing another.
func settle(temp, path string) error {
	err := os.Link(temp, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return nil
	}
	// Some file systems have no links.
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return os.Rename(temp, path)
}

func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be synced there
	}
	d, err := os.Open(filepath.Clean(dir))
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
