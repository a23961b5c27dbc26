//go:build unix

package main

import (
	"time"

	"golang.org/x/sys/unix"
)

// more waits until there is something to read, and says whether there is.
func more(fd uintptr, d time.Duration) bool {
	list := []unix.PollFd{{Fd: int32(fd), Events: unix.POLLIN}} //nolint:gosec // a descriptor fits
	n, err := unix.Poll(list, int(d.Milliseconds()))
	return err == nil && n > 0
}
