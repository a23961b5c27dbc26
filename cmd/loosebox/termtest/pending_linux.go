package termtest

import "golang.org/x/sys/unix"

// inputWaiting asks how many bytes of input nobody has read yet.
const inputWaiting = unix.TIOCINQ
