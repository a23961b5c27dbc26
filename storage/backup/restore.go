package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"filippo.io/age"

	"loosebox/storage"
	"loosebox/storage/outside"
	"loosebox/storage/unfinished"
)

// Restore brings a backup back into a folder that holds no record: it is unpacked
// beside it, looked at by check, and moved only when all of it was found whole. On
// an error, or when the context ends, the folder is as it was and nothing of what
// was decrypted is left. What a killed restore left beside it is removed first.
func Restore(ctx context.Context, file, folder string, check func(folder string) error, with ...age.Identity) (About, error) {
	if err := free(folder); err != nil {
		return About{}, err
	}
	folder = filepath.Clean(folder)
	if err := os.MkdirAll(filepath.Dir(folder), 0o700); err != nil {
		return About{}, fmt.Errorf("the place for the record cannot be made: %w", err)
	}
	temp, err := unfinished.MakeFolder(filepath.Dir(folder), filepath.Base(folder)+restoring, belongs)
	if err != nil {
		return About{}, fmt.Errorf("the place for the record cannot be made: %w", err)
	}
	defer temp.Remove() //nolint:errcheck // what cannot be removed, the next restore or run removes
	about, err := Try(ctx, file, temp.Path, check, with...)
	if err == nil {
		err = beginAnew(temp.Path)
	}
	if err == nil {
		err = context.Cause(ctx)
	}
	if err != nil {
		return about, err
	}
	if err := free(folder); err != nil { // meanwhile
		return about, err
	}
	if runtime.GOOS == "windows" {
		temp.Release() // or it could not be moved; elsewhere it is held until every file is in its place
	}
	if err := moveInto(temp.Path, folder); err != nil {
		return about, fmt.Errorf("the record was whole and could not be moved to its place: %w", err)
	}
	return about, unfinished.SyncFolder(filepath.Dir(folder))
}

// Try unpacks a backup into an empty folder and has it looked at; it stays there.
func Try(ctx context.Context, file, folder string, check func(folder string) error, with ...age.Identity) (About, error) {
	src, err := outside.Open(file, maxRecord)
	if err != nil {
		return About{}, fmt.Errorf("the backup cannot be opened: %w", err)
	}
	defer src.Close() //nolint:errcheck // read only
	all := 0
	if info, err := os.Stat(file); err == nil {
		all = int(info.Size())
	}
	about, err := Unpack(&stoppableReader{stretch{ctx: ctx, all: all}, src}, folder, with...)
	if ctx.Err() != nil {
		return about, context.Cause(ctx)
	}
	if err != nil {
		return about, fmt.Errorf("%s: %w; nothing was restored", file, err)
	}
	err = check(folder)
	if ctx.Err() != nil {
		return about, context.Cause(ctx)
	}
	if err != nil {
		return about, fmt.Errorf("%s holds a record that is not whole, nothing was restored: %w", file, err)
	}
	return about, nil
}

// beginAnew ends the logs of a restored record: the machine that it was saved on may go
// on with them.
func beginAnew(folder string) error {
	r, err := storage.Open(folder, storage.Options{MustExist: true, Keyless: true})
	if err != nil {
		return fmt.Errorf("the restored record cannot be opened: %w", err)
	}
	return errors.Join(r.BeginAnew(), r.Close())
}

// restoring stands behind the name of a folder while it is restored, before a number.
const restoring = ".restoring-"

// SweepKilled removes what a killed Restore into a folder left beside it, and says how many folders that were. What a running
// one holds stays, and so does everything where the system has no locks that would tell.
func SweepKilled(folder string) int {
	if runtime.GOOS == "windows" {
		return 0
	}
	folder = filepath.Clean(folder)
	return unfinished.SweepFolders(filepath.Dir(folder), filepath.Base(folder)+restoring, belongs)
}

// belongs says whether a file is one that a restore makes while it unpacks and checks.
func belongs(name string) bool {
	first, _, _ := strings.Cut(name, ".new-")
	return allowed(first) || first == storage.CountName
}

// free says whether a folder is a new place: not there, or without a record.
func free(folder string) error {
	for _, name := range []string{storage.FileName, storage.KeyName} {
		if _, err := os.Lstat(filepath.Join(folder, name)); !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s holds a record already and was not touched; name a new folder with --data", folder)
		}
	}
	return nil
}

// moveInto moves the unpacked files, the record last: before it there is no record.
func moveInto(from, to string) error {
	if err := os.Rename(from, to); err == nil {
		return nil
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return err
	}
	list, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	for _, f := range list {
		if f.Name() == storage.FileName {
			continue
		}
		target := filepath.Join(to, f.Name())
		if _, err := os.Lstat(target); err == nil {
			return fmt.Errorf("%s is there already", target)
		}
		if err := os.Rename(filepath.Join(from, f.Name()), target); err != nil {
			return err
		}
	}
	if err := os.Rename(filepath.Join(from, storage.FileName), filepath.Join(to, storage.FileName)); err != nil {
		return err
	}
	return unfinished.SyncFolder(to)
}
