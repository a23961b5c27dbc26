package main

import (
	"errors"
	"io"
	"os"
)

// keyboard is the terminal that the screens read keys from. It says when the
// terminal has vanished: nobody can press a key any more.
type keyboard struct {
	*os.File
	gone func()
}

func (k *keyboard) Read(p []byte) (int, error) {
	n, err := k.File.Read(p)
	if n == 0 && (errors.Is(err, io.EOF) || vanished(err)) {
		k.gone()
	}
	return n, err
}
