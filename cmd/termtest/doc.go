// Package termtest starts a built program in a pseudo-terminal, types at it and
// reads its screen back through a terminal emulator, for tests of whole programs
// and for measuring them. On systems without pseudo-terminals it only builds the program.
package termtest
