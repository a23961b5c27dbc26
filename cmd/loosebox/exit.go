package main

import (
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/storage/share"
)

// Exit codes, part of the contract.
const (
	exitDone     = 0
	exitFailed   = 1
	exitUsage    = 2
	exitNotFound = 3
	exitDamaged  = 4
	exitInUse    = 5
	exitRefused  = 6 // and 129, 130, 143: a signal ended the run
)

// errDamaged ends check after its output named the damage.
var errDamaged = fmt.Errorf("%w: the lines above are not what was written; nothing was changed, keep the file as it is", exam.ErrDamaged)

// usageError is wrong use of the command line.
type usageError struct{ text string }

func (u *usageError) Error() string { return u.text }

func usage(format string, args ...any) error { return &usageError{fmt.Sprintf(format, args...)} }

// codeOf turns an error into the exit code that a script decides on.
func codeOf(err error) int {
	var wrongUse *usageError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &wrongUse):
		return exitUsage
	case errors.Is(err, exam.ErrNotFound), errors.Is(err, share.ErrNoFolder):
		return exitNotFound
	case errors.Is(err, exam.ErrDamaged):
		return exitDamaged
	case errors.Is(err, exam.ErrInUse):
		return exitInUse
	case errors.Is(err, exam.ErrRefused):
		return exitRefused
	default:
		return exitFailed
	}
}
