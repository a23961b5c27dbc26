//go:build unix

package main

import (
	"math"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
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
	digits := []string{
		"██  ██ ██████    ██████",
		"██  ██ ██  ██    ██  ██",
		"██████ ██  ██    ██  ██",
		"    ██ ██  ██    ██  ██",
		"    ██ ██████ ██ ██████",
	}
	shown := func(x *termtest.Terminal) bool {
		return x.Shows("steady: within 1 /min") && !slices.ContainsFunc(digits, func(row string) bool { return !x.Shows(row) })
	}
	sent := 0.0
	for range 10 { // on a machine that was late the metronome is uneven, or its taps are read late: it is set going anew
		written := h.tap(`12 taps +1[67] s`, every(1500*time.Millisecond, 14)...)
		// The taps themselves: the rate of what was written into the terminal, without
		// the two that lead in.
		sent = 60 * 11 / (written[13] - written[2])
		if math.Abs(sent-40) <= 0.02 && h.term.Until("a steady count", shown, 5*time.Second) == nil {
			break
		}
		h.tapAnew()
	}
	require.InDelta(t, 40, sent, 0.02, "the metronome itself is off")
	h.see("steady: within 1 /min")
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
	written := h.tap("1 long gap: asked about at enter", append(beats[:8:8], beats[9:]...)...)
	h.press("enter")
	h.see("1 a tap was missed: ") // 100.0 /min, or 99.9 on a busy machine
	paused, err := strconv.ParseFloat(h.seeLine(`the heart paused: (\d+\.\d) /min`)[1], 64)
	require.NoError(t, err)
	// 92.3 of 12 intervals in 7.8 s, where the machine is quiet; a tap may be written and read some milliseconds late.
	assert.InDelta(t, 60*12/(written[14]-written[2]), paused, 0.5)
	h.press("1", "enter")
	h.see("tap a heart for at least 15 s")
	h.press("enter")
	counted, err := strconv.ParseFloat(h.seeLine(`^counted: (\d+(?:\.\d)?) /min`)[1], 64)
	require.NoError(t, err)
	assert.InDelta(t, 60*13/(written[14]-written[2]), counted, 0.5) // 100: the beat that was missed is one
	h.leave()
}
