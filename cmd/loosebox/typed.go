package main

import (
	"context"
	"errors"
	"io"
	"syscall"
)

// typed is what is read from the person or the pipe. A signal ends a read that
// waits, and so does a terminal that vanished.
func (e *env) typed() io.Reader {
	return &typed{env: e, from: e.in, pieces: make(chan piece, 1)}
}

// piece is what one read brought.
type piece struct {
	n   int
	err error
}

type typed struct {
	env    *env
	from   io.Reader
	pieces chan piece
	buffer []byte // the reading goroutine's, until its answer is in
	rest   []byte
}

func (t *typed) Read(p []byte) (int, error) {
	if len(t.rest) == 0 {
		if err := t.fill(); err != nil {
			return 0, err
		}
	}
	n := copy(p, t.rest)
	t.rest = t.rest[n:]
	return n, nil
}

func (t *typed) fill() error {
	t.buffer = make([]byte, 4096)
	go func() {
		n, err := t.from.Read(t.buffer)
		t.pieces <- piece{n, err}
	}()
	select {
	case a := <-t.pieces:
		if a.n == 0 && t.env.inTerminal && vanished(a.err) {
			t.env.interrupt(syscall.SIGHUP)
		}
		t.rest = t.buffer[:a.n]
		if a.n > 0 {
			return nil // an error comes again with the next read
		}
		return a.err
	case <-t.env.context().Done():
		return context.Cause(t.env.context())
	}
}

// vanished says that a read failed because the terminal is no longer there.
func vanished(err error) bool { return errors.Is(err, syscall.EIO) || errors.Is(err, syscall.ENXIO) }
