//go:build unix && !linux

package termtest

import "golang.org/x/sys/unix"

// inputWaiting is the ioctl for how many bytes of input were not read yet: FIONREAD of the BSD family, which
// golang.org/x/sys does not name.
const inputWaiting = 0x4004667f

// The ioctls that read and set the settings of a terminal.
const (
	getSettings = unix.TIOCGETA
	setSettings = unix.TIOCSETA
)
