//go:build unix

package main

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox/termtest"
)

// TestARehearsalFromTheDoorToTheMarks plays a short routine with keys alone: the
// moments of danger, a heart counted as its pulse shows on the screen, the review,
// and the marks. The program is closed in between and goes on.
func TestARehearsalFromTheDoorToTheMarks(t *testing.T) {
	t.Parallel()
	data := t.TempDir() + "/record"
	h := sit(t, data, "rehearse", "--case", "healthy-adult", "--seed", "7", "--routine", "tpr-recheck", "--by", "Ann Bell")
	h.see("[go to the horse]")
	h.press("enter")
	h.see("The keeper:")
	h.press("1", "space", "ctrl+s")
	h.choose("How do you go in?", "Speak from the door")
	h.seeLine(`^REHEARSAL, not a real horse .* 0 of 8$`)
	h.step("Approach and handler", "1", "enter")
	h.step("Demeanour", "1", "enter")
	h.leave()

	h = sit(t, data)
	h.see("loosebox")
	h.press("r")
	h.see("a new rehearsal")
	h.press("2", "ctrl+s")
	h.step("Breathing rate", "e", "4", "enter")
	h.write("9")
	h.press("enter")
	h.step("Breathing effort, 0 to 4", "0", "enter")
	h.choose("What do you do?", "Go with the hip")
	h.see("beep: 37.6 C")
	h.write("37.6")
	h.press("enter")
	h.choose("What now?", "Ask the handler over")
	h.heartByPulse(13)
	h.step("Heart rhythm", "1", "enter")
	h.step("Anything else", "enter")
	h.write("no")
	h.press("enter")
	h.see("Review:")
	h.press("f", "enter")
	h.see("Marks")
	h.see("every answer, side, count and choice stands")
	h.leave()

	for _, c := range lastCounts(t, data) {
		assert.True(t, c.Right, c.Step)
		if c.Step == "heart.rate" {
			assert.Equal(t, "the beats between your first and last tap", c.Basis)
			assert.InDelta(t, 0.04, c.SigmaS, 0.04, "taps on what was drawn")
		}
	}
	out, errOut, code := command(t, data, "horses")
	require.Zero(t, code, errOut)
	assert.NotContains(t, out, "Clover", "no simulated horse among the real ones")
	sound(t, data)
}

// choose takes the option that begins with the words at a moment of danger, once
// the question has stood long enough to be answered.
func (h *hand) choose(asks, option string) {
	h.t.Helper()
	h.see(asks)
	n := h.seeLine(`(\d) ` + regexp.QuoteMeta(option))[1]
	h.press("enter") // which is no answer
	h.see(asks)
	var err error
	for range 10 { // the number counts once the question was there to be read
		h.press(n)
		if err = h.term.WaitGone(asks, time.Second); err == nil {
			return
		}
	}
	require.NoError(h.t, err)
}

// heartByPulse taps as the pulse is drawn.
func (h *hand) heartByPulse(taps int) {
	h.t.Helper()
	h.seeLine(`│ Heart rate$`)
	lit := func(want bool) {
		h.t.Helper()
		require.NoError(h.t, h.term.Until("the pulse", func(x *termtest.Terminal) bool {
			return regexp.MustCompile(`│ beat +█`).MatchString(strings.Join(x.Screen(), "\n")) == want
		}, patience))
	}
	lit(false)
	for range taps {
		lit(true)
		h.press("space")
		lit(false)
	}
	h.press("enter")
}

// countMark is a count in the marks, as far as this test asks.
type countMark struct {
	Step   string
	Basis  string
	Right  bool
	SigmaS float64 `json:"tap_scatter_s"`
}

// lastCounts are the counts in the marks of the only rehearsal.
func lastCounts(t *testing.T, data string) []countMark {
	t.Helper()
	out, errOut, code := command(t, data, "rehearsals", "--json")
	require.Zero(t, code, errOut)
	id := regexp.MustCompile(`"visit": "([^"]+)"`).FindStringSubmatch(out)
	require.NotNil(t, id, out)
	out, errOut, code = command(t, data, "marks", id[1], "--json")
	require.Zero(t, code, errOut)
	var m struct{ Counts []countMark }
	require.NoError(t, json.Unmarshal([]byte(out), &m))
	require.Len(t, m.Counts, 2)
	return m.Counts
}
