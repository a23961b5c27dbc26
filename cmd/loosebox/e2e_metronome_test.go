//go:build unix

package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMetronome taps the count screen with a space every 1.5 s, which is 40 a
// minute, and reads the rate in the large digits and in the line of the accepted
// count. Two taps lead in, eleven intervals of 1.5 s are counted.
func TestMetronome(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("taps for 30 s; run without -short")
	}
	h := sit(t, t.TempDir()+"/record", "count")
	h.see("space at each beat")
	written := h.tap(`12 taps +1[67] s`, every(1500*time.Millisecond, 14)...)
	h.see("steady: within 1 /min")

	// The taps themselves: the rate of what was written into the terminal, without
	// the two that lead in.
	sent := 60 * 11 / (written[13] - written[2])
	require.InDelta(t, 40, sent, 0.02, "the metronome itself is off")
	digits := []string{
		"██  ██ ██████    ██████",
		"██  ██ ██  ██    ██  ██",
		"██████ ██  ██    ██  ██",
		"    ██ ██  ██    ██  ██",
		"    ██ ██████ ██ ██████",
	}
	screen := h.screen()
	for _, row := range digits {
		assert.Contains(t, screen, row, "40.0 in large digits")
	}
	h.press("enter")
	h.seeLine(`^counted: 40(\.0)? /min`)
	h.leave()

	// The same with a beat left out: the gap is asked about, with both rates.
	h = sit(t, t.TempDir()+"/record", "count")
	h.see("space at each beat")
	beats := every(600*time.Millisecond, 16)
	h.tap("1 long gap: asked about at enter", append(beats[:8:8], beats[9:]...)...)
	h.press("enter")
	h.see("1 a tap was missed: ")                                                           // 100.0 /min, or 99.9 on a busy machine
	assert.True(t, strings.Contains(h.screen(), "the heart paused: 92.3 /min"), h.screen()) // 12 intervals in 7.8 s
	h.press("1", "enter")
	h.see("tap a heart for at least 15 s")
	h.press("enter")
	h.seeLine(`^counted: 100`)
	h.leave()
}
