//go:build unix && !solaris && !aix

package storage

import (
	"os"
	"syscall"
)

// unlock lets go of a file whose mapping a fault left behind: the mapping keeps
// the lock even when the file is closed.
func unlock(f *os.File) {
	_ = syscall.Flock(int(f.Fd()), syscall.LOCK_UN)
}
