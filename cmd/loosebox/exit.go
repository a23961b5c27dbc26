package main

import (
	"context"
	"errors"
	"fmt"

	"loosebox/exam"
)

// Exit codes, part of the contract.
const (
	exitDone        = 0
	exitFailed      = 1
	exitUsage       = 2
	exitNotFound    = 3
	exitDamaged     = 4
	exitInUse       = 5
	exitRefused     = 6
	exitInterrupted = 130
)

// errDamaged ends check after its output named the damage.
var errDamaged = fmt.Errorf("%w: the lines above are not what was written; nothing was changed, keep the file as it is", exam.ErrDamaged)

// errInterrupted is an interrupt from outside; every accepted answer is stored.
var errInterrupted = errors.New("interrupted; every accepted answer is stored")

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
	case errors.Is(err, exam.ErrNotFound):
		return exitNotFound
	case errors.Is(err, exam.ErrDamaged):
		return exitDamaged
	case errors.Is(err, exam.ErrInUse):
		return exitInUse
	case errors.Is(err, exam.ErrRefused):
		return exitRefused
	case errors.Is(err, context.Canceled), errors.Is(err, errInterrupted):
		return exitInterrupted
	default:
		return exitFailed
	}
}
