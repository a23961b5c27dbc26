//go:build unix

package outside

import "syscall"

// noWait opens a pipe that took the file's place without waiting for a writer.
const noWait = syscall.O_NONBLOCK
