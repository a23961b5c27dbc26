//go:build unix && !linux

package termtest

import "golang.org/x/sys/unix"

// inputWaiting asks how many bytes of input nobody has read yet: FIONREAD of the
// BSD family, which the system package does not name.
const inputWaiting = 0x4004667f

// How the settings of a terminal are asked for and set.
const (
	getSettings = unix.TIOCGETA
	setSettings = unix.TIOCSETA
)
