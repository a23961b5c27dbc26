//go:build unix && !linux && !solaris && !aix

package main

import (
	"fmt"
	"os"
	"syscall"
)

// smallDisk returns, in more, the variable that limits the child's files: no disk in memory is made on this system.
func smallDisk(place string, size int) (more []string, done func() error, onDisk bool, err error) {
	return []string{fmt.Sprintf("%s=%d", limitInJob, size)}, func() error { return nil }, false, os.MkdirAll(place, 0o700)
}

func makeRoom(string) error { return nil }

func setFileSize(n uint64) error {
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n})
}
