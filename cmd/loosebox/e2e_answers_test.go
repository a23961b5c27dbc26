//go:build unix

package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// The program asks the terminal nothing, so a terminal that never answers delays
// nothing, and it is drawn in colour all the same.
func TestNothingIsAskedOfATerminal(t *testing.T) {
	t.Parallel()
	data := yard(t)
	file, err := program()
	require.NoError(t, err)
	term, err := termtest.Start(termtest.Options{Program: file, W: 80, H: 24, Env: termtest.Env(t.TempDir(), data), Silent: true})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, term.Kill()) })
	h := &hand{t: t, term: term, data: data}
	h.see("go on with Wren's exam")
	assert.False(t, term.Asked())
	assert.True(t, term.Coloured())
	h.leave()
}

// Answers to questions of another program come late, cut, without their beginning:
// nothing opens, nothing is stored, and keys work as before.
func TestLateAnswersOpenNothing(t *testing.T) {
	t.Parallel()
	h := sit(t, yard(t))
	h.see("last visit")
	h.see("today's round")
	h.term.Settle(whole)
	before := h.screen()
	wrong := [][]string{
		{"\x1b]11;rgb:0000/0000/0000\x1b\\"},
		{"\x1b[24;80R"},
		{"11;rgb:dddd/dddd/dddd\x07"},
		{"\x1b]11;rg", "b:gggg/nnnn\x07"},
		{"\x1b]11;rgb:0000", "/0000/0000\x1b\\"},
		{"\x1b[?62;22c\x1b[>1;2;3c"},
		{"\x1b", "]11;rgb:0000/0000/0000\x1b\\"},
		{"\x1b", "[24;80R"},
		{"\x1b]11;rgb:"},   // its rest never comes
		{"\x1b]11;gg\x07"}, // no colour
		{"\x1b[9999;9999;9R"},
		{"\x1bP1+r544e=78\x1b\\\x1bP>|another(1)\x1b\\"},
	}
	for _, answer := range answers() {
		wrong = append(wrong, strings.Split(answer, ""))
	}
	for _, pieces := range wrong {
		h.hears(pieces)
		assert.Equal(t, before, h.screen(), "%q", pieces)
	}
	h.press("g")
	h.see("Settings")
	h.press("esc")
	h.see("today's round")
	h.term.Settle(whole)
	assert.Equal(t, before, h.screen())
	h.leave()
}

// hears has the terminal send pieces, close together, and waits until they are read. A
// machine that is so busy that they come apart is given another try: then the first
// byte is esc, pressed by somebody.
func (h *hand) hears(pieces []string) {
	h.t.Helper()
	for range 50 {
		var last time.Time
		apart := time.Duration(0)
		for _, p := range pieces {
			at, err := h.term.Write(p)
			require.NoError(h.t, err)
			if !last.IsZero() {
				apart = max(apart, at.Sub(last))
			}
			last = at
		}
		require.NoError(h.t, h.term.Taken())
		h.term.Settle(whole)
		if apart < 10*time.Millisecond {
			return
		}
		h.until("esc", func(x *termtest.Terminal) bool { return x.Shows("today's round") })
	}
	require.Fail(h.t, "the machine is too busy to write two bytes close together")
}

// A terminal that cannot redraw gets lines, without being asked for.
func TestADumbTerminalGetsLines(t *testing.T) {
	t.Parallel()
	data := yard(t)
	file, err := program()
	require.NoError(t, err)
	term, err := termtest.Start(termtest.Options{
		Program: file, Args: []string{"exam", "Wren"}, W: 80, H: 24, Env: append(termtest.Env(t.TempDir(), data), "TERM=dumb"),
	})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, term.Kill()) })
	h := &hand{t: t, term: term, data: data}
	h.seeLine(`^\d+ of \d+\. `)
	assert.False(t, term.Asked())
}
