package main

import (
	"fmt"
	"io/fs"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What the system says of a file is said in words, with what to do, and never with the name
// that a file has until it is whole.
func TestWhatTheSystemSaysIsInWords(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"yard/record.db":              "yard/record.db",
		"yard/record.db.new-4038":     "yard/record.db",
		"yard/record.db.read-17":      "yard/record.db",
		"yard.restoring-33/record.db": "yard/record.db",
		"yard/all.jsonl.3.part":       "yard",
	} {
		err := fmt.Errorf("rebuild: %w", &fs.PathError{Op: "write", Path: name, Err: syscall.ENOSPC})
		assert.Equal(t, "rebuild: the disk of "+want+" is full; make room, then try again", inWords(err))
	}
}
