package main

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/sys/unix"
)

// smallDisk mounts a disk in memory of size bytes at place. Where that is not permitted it returns, in more, the variable
// that limits the child's files instead. Done unmounts it.
func smallDisk(place string, size int) (more []string, done func() error, onDisk bool, err error) {
	if err := os.MkdirAll(place, 0o700); err != nil {
		return nil, nil, false, err
	}
	err = unix.Mount("tmpfs", place, "tmpfs", 0, fmt.Sprintf("size=%d,mode=0700", size))
	if err != nil {
		return []string{fmt.Sprintf("%s=%d", limitInJob, size)}, func() error { return nil }, false, nil
	}
	return nil, func() error { return unix.Unmount(place, 0) }, true, nil
}

// makeRoom makes the disk larger, as if files had been deleted.
func makeRoom(place string) error {
	return unix.Mount("tmpfs", filepath.Clean(place), "tmpfs", unix.MS_REMOUNT, "size=64m,mode=0700")
}

func setFileSize(n uint64) error {
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n})
}
