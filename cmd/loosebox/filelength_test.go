package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A file that is longer has two subjects: it is split by what it holds, and each half is named for it.
func TestNoFileIsLong(t *testing.T) {
	const most = 250 // lines, without tests
	seen := 0
	files(t, ".", func(path string, test bool, _ []string) {
		if test {
			return
		}
		seen++
		if lines := strings.Count(read(t, path), "\n"); lines > most {
			t.Errorf("%s has %d lines, and %d are the most: split it by subject", path, lines, most)
		}
	})
	assert.Greater(t, seen, 1000, "the files of the whole tree are read")
}
