package termtest

import "golang.org/x/sys/unix"

// inputWaiting is the ioctl for how many bytes of input were not read yet.
const inputWaiting = unix.TIOCINQ

// The ioctls that read and set the settings of a terminal.
const (
	getSettings = unix.TCGETS
	setSettings = unix.TCSETS
)
