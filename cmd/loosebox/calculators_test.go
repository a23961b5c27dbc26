package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// calculate runs one command line without a record, at a fixed time.
func calculate(t *testing.T, args ...string) (code int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	run := &env{
		in: strings.NewReader(""), out: &o, errOut: &e, lookup: func(string) string { return "" }, dir: filepath.Join(t.TempDir(), "none"),
		now: func() time.Time { return time.Date(2026, 5, 20, 12, 0, 0, 0, time.UTC) },
	}
	code = run.run(args)
	return code, o.String(), e.String()
}

// manualLines is how many lines of an example stand in the manual: the whole of a calculator's working, one of the
// smaller sums.
func manualLines(example int) int {
	if example > 3 {
		return 1
	}
	return 8
}

// The examples of the manual are the head of what the program prints.
// LOOSEBOX_UPDATE=1 writes them again.
func TestExamplesOfTheManualAreReal(t *testing.T) {
	path := filepath.Join("manual", "sums.md")
	text := strings.ReplaceAll(read(t, path), "\r\n", "\n")
	before, rest, found := strings.Cut(text, "```console\n")
	require.True(t, found)
	block, after, found := strings.Cut(rest, "```\n")
	require.True(t, found)
	var want strings.Builder
	examples := 0
	for line := range strings.Lines(block) {
		command, is := strings.CutPrefix(line, "$ loosebox ")
		if !is {
			continue
		}
		examples++
		code, out, errOut := calculate(t, strings.Fields(command)...)
		require.Zero(t, code, errOut)
		for printed := range strings.Lines(out) {
			assert.LessOrEqual(t, ansi.StringWidth(strings.TrimSuffix(printed, "\n")), 80, printed)
		}
		if examples > 1 {
			want.WriteByte('\n')
		}
		if lines := strings.SplitAfter(out, "\n"); len(lines) > manualLines(examples)+1 {
			out = strings.Join(lines[:manualLines(examples)], "") + "[...]\n"
		}
		want.WriteString(line + out)
	}
	assert.Equal(t, 6, examples)
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(before+"```console\n"+want.String()+"```\n"+after), 0o644)) //nolint:gosec // a document
		return
	}
	assert.Equal(t, want.String(), block)
}

func TestBrokenLines(t *testing.T) {
	assert.Equal(t, "short", broken("short", 80))
	assert.Equal(t, "one two\n    three", broken("one two three", 9))
	assert.Equal(t, "  one\n    two-three", broken("  one two-three", 9), "words are not broken at a hyphen")
}
