package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/progress"
)

// TestTheBarSaysWhatIsLeft: nothing for quick work, then the share that is done and the time for the rest; it goes at the end.
func TestTheBarSaysWhatIsLeft(t *testing.T) {
	var out bytes.Buffer
	now := time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)
	e := &env{errOut: &out, now: func() time.Time { return now }}
	b := e.bar("checking lines", 200)
	assert.False(t, b.draw, "no terminal")
	b.at(100)
	assert.Empty(t, out.String())
	b.draw = true
	b.at(10)
	assert.Empty(t, out.String(), "it has only begun")
	now = now.Add(2 * time.Second)
	b.at(50)
	assert.Equal(t, "\rchecking lines [#######.......................] 25 %, 6s left", strings.TrimRight(out.String(), " "))
	assert.Len(t, strings.TrimPrefix(out.String(), "\r"), 78)
	out.Reset()
	now = now.Add(20 * time.Millisecond)
	b.at(60)
	assert.Empty(t, out.String(), "not at every line")
	now = now.Add(4 * time.Second)
	b.at(500)
	assert.Contains(t, out.String(), "100 %, 0s left", "never more than all")
	out.Reset()
	b.end()
	b.end()
	assert.Equal(t, "\r"+strings.Repeat(" ", 78)+"\r", out.String())
}

// TestWorkNamesItsParts: the bar of a command follows what the work says of itself, and a command that writes to no terminal
// draws none.
func TestWorkNamesItsParts(t *testing.T) {
	var out bytes.Buffer
	now := time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)
	e := &env{errOut: &out, now: func() time.Time { now = now.Add(time.Second); return now }, lookup: func(string) string { return "" }}
	ctx, end := e.progress(t.Context(), "checking")
	progress.Say(ctx, "lines", 1, 2)
	end()
	assert.Empty(t, out.String())
	progress.Say(t.Context(), "lines", 1, 2) // nobody listens
}
