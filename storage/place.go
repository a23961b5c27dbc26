package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// NoRecordError says that a folder holds no record. It is exam.ErrNotFound and
// fs.ErrNotExist.
type NoRecordError struct{ Folder string }

// Error names the folder that holds no record.
func (n *NoRecordError) Error() string {
	return fmt.Sprintf("no record here: %s holds none, and nothing was made; --data names another folder", n.Folder)
}

// Is makes it an error that something was not found.
func (n *NoRecordError) Is(target error) bool {
	return target == exam.ErrNotFound || target == fs.ErrNotExist
}

// ErrForeign is wrapped where a folder holds other things and no record.
var ErrForeign = errors.New("holds other things and no record")

// ours are the names that may stand in the record's folder before there is a
// record: a practice's own files, what a removed record leaves, and what systems
// put into every folder.
var ours = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(` + strings.Join([]string{
		`record\.db.*`, `machine\.(key|count).*`, `loosebox-.*`,
		`ranges\.csv`, `syringes\.csv`, `schedule\.csv`, `routines`, `cases`,
		`\.DS_Store`, `desktop\.ini`, `lost\+found`, `System Volume Information`,
	}, "|") + `)$`)
})

// onlyOurs refuses a folder that is somebody's for another purpose: a record in it
// would be lost among other files.
func onlyOurs(dir string) error {
	list, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("%s cannot be looked at, nothing was changed: %w", dir, err)
	}
	list = slices.DeleteFunc(list, func(f fs.DirEntry) bool { return ours().MatchString(f.Name()) })
	if len(list) == 0 {
		return nil
	}
	return fmt.Errorf("%s %w (such as %s), nothing was changed: name a new folder, such as --data %s",
		dir, ErrForeign, notation.CleanLine(list[0].Name(), 40), filepath.Join(dir, "loosebox"))
}

// sweep removes what a run that was killed left half made beside the record. It is
// called while the record is held, so no other run is making any of it.
func sweep(dir string) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	half := regexp.MustCompile(`^(record\.db|machine\.key|machine\.count|record\.open)\.new-\d+$|^record\.db\.read-\d+$|^record\.open$`)
	for _, f := range list {
		if half.MatchString(f.Name()) && f.Type().IsRegular() {
			_ = os.Remove(filepath.Join(dir, f.Name())) // the next run tries again
		}
	}
}
