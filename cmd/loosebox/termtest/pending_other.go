//go:build unix && !linux

package termtest

// inputWaiting asks how many bytes of input nobody has read yet: FIONREAD of the
// BSD family, which the system package does not name.
const inputWaiting = 0x4004667f
