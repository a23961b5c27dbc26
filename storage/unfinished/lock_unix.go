//go:build unix && !solaris && !aix

package unfinished

import (
	"errors"
	"os"
	"syscall"
)

// errNoLocks says that this file system or system knows no such locks.
var errNoLocks = errors.New("no locks here")

// lock holds a file or folder until it is closed; it does not wait.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) //nolint:gosec // a descriptor fits
	if errors.Is(err, syscall.ENOLCK) || errors.Is(err, syscall.ENOTSUP) || errors.Is(err, syscall.EINVAL) {
		return errNoLocks
	}
	return err
}
