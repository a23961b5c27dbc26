package termtest

import "golang.org/x/sys/unix"

// inputWaiting asks how many bytes of input nobody has read yet.
const inputWaiting = unix.TIOCINQ

// How the settings of a terminal are asked for and set.
const (
	getSettings = unix.TCGETS
	setSettings = unix.TCSETS
)
