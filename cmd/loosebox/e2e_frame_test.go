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

// way is how a screen is reached from home with the demo's record, and what is
// seen there.
type way struct {
	name string
	keys []string
	seen string
}

// From home with the cursor on the open visit: down is the first horse by name.
func ways() []way {
	return []way{
		{"home", nil, "not finished"},
		{"find", []string{"/"}, "find: _"},
		{"help", []string{"?"}, "Help"},
		{"new horse", []string{"n"}, "New horse"},
		{"horse", []string{"down", "enter"}, "b begin exam"},
		{"edit", []string{"down", "enter", "e"}, "Change"},
		{"start", []string{"down", "b"}, "[begin the exam]"},
		{"exam", []string{"enter"}, "next: "},
		{"order", []string{"enter", "o"}, "Choose a step at the left"},
		{"not done", []string{"enter", "x"}, "Not done: why?"},
		{"note", []string{"enter", "w"}, "Comment on"},
		{"review", []string{"enter", "r"}, "Review · Wren"},
		{"finish", []string{"enter", "r", "f"}, "steps have no answer"},
		{"comparison", []string{"down", "enter", "c"}, "Comparison"},
		{"trend", []string{"down", "enter", "c", "enter"}, "Trend"},
		{"due of all", []string{"d"}, "A guideline, not a plan"},
		{"due", []string{"down", "enter", "d"}, "A guideline, not a plan"},
		{"whose schedule", []string{"down", "enter", "d", "s"}, "schedule: AAEP"},
		{"round", []string{"o"}, "Round of "},
		{"round, a horse picked", []string{"o", "/"}, "pick a horse"},
		{"round, reassigned", []string{"o", "m"}, "Reassign: "},
		{"calculators", []string{"="}, "Calculators"},
		{"quick count", []string{"q"}, "Count · Heart rate"},
		{"settings", []string{"g"}, "Settings"},
		{"tap practice", []string{"g", "end", "enter"}, "Tap practice"},
	}
}

// go to a screen; each key must show before the next.
func (h *hand) follow(w way) {
	h.t.Helper()
	for _, key := range w.keys {
		before := h.screen()
		h.press(key)
		require.NoError(h.t, h.term.Until("a change after "+key, func(*termtest.Terminal) bool { return h.screen() != before }, patience))
		h.term.Settle(whole) // what says that it is being read may be in the rest of the frame
		require.NoError(h.t, h.term.Until("what is read after "+key, func(*termtest.Terminal) bool { return !h.term.Shows("Reading the") }, patience))
		h.term.Settle(whole)
	}
	h.see(w.seen)
}

// TestEscNeverLeaves presses esc on every screen until nothing is left to go
// back to, and some more: the program must stand at home, and be listening.
func TestEscNeverLeaves(t *testing.T) {
	t.Parallel()
	h := sit(t, yard(t))
	for _, w := range ways() {
		h.see("ctrl+c leave")
		h.see("last visit")
		h.moveTo("up", "> ", "go on with")
		h.follow(w)
		for range 6 {
			h.press("esc")
		}
		h.see("ctrl+c leave")
		h.see("last visit")
		h.unsee("find:")
	}
	h.leave()
}

// TestTooSmallAWindow says so on every screen, and shows the screen again, as it
// was, when the window grows.
func TestTooSmallAWindow(t *testing.T) {
	t.Parallel()
	data := yard(t)
	for _, w := range []way{ways()[0], ways()[4], ways()[7], ways()[10], ways()[11], ways()[13], ways()[14]} {
		h := sit(t, data)
		h.see("last visit")
		h.see("today's round") // comes after the list
		h.follow(w)
		h.term.Settle(100 * time.Millisecond)
		before := h.screen()
		for _, size := range [][2]int{{59, 19}, {59, 24}, {80, 19}, {20, 5}} {
			require.NoError(t, h.term.Resize(size[0], size[1]))
			h.see("This window is too")
			assert.Contains(t, h.term.Screen()[0], "This window is too")
		}
		h.press("u", "n", "x") // nothing may be typed into what is not seen
		require.NoError(t, h.term.Resize(60, 20))
		h.unsee("This window is too")
		require.NoError(t, h.term.Resize(80, 24))
		require.NoError(t, h.term.Until("the screen as it was", func(*termtest.Terminal) bool { return h.screen() == before }, patience), w.name)
		h.leave()
	}
}

// TestASecondRunIsTold: one program at a time holds the record; the other ends
// with code 5 and says what to do, and the first is not disturbed.
func TestASecondRunIsTold(t *testing.T) {
	t.Parallel()
	data := yard(t)
	h := sit(t, data)
	h.see("go on with Wren's exam")
	_, errOut, code := command(t, data, "correct", "Bramble@last", "--note", "quiet", "--reason", "told later", "--by", "Ann Bell")
	assert.Equal(t, exitInUse, code)
	assert.Contains(t, errOut, "another run")
	assert.Equal(t, 1, strings.Count(strings.TrimSpace(errOut), "\n")+1, "one sentence: %s", errOut)

	second := sit(t, data)
	second.see("is in use by")
	exit, err := second.term.Wait(patience)
	require.NoError(t, err)
	assert.Equal(t, exitInUse, exit)

	h.press("down", "enter")
	h.see("b begin exam")
	h.leave()
	_, errOut, code = command(t, data, "horses")
	assert.Zero(t, code, errOut)
	sound(t, data)
}

// TestNoColourLosesNothing reads the same words with NO_COLOR and with a
// terminal of letters only.
func TestNoColourLosesNothing(t *testing.T) {
	t.Parallel()
	data := yard(t)
	file, err := program()
	require.NoError(t, err)
	term, err := termtest.Start(termtest.Options{
		Program: file, Args: []string{"--no-color"}, W: 80, H: 24,
		Env: append(termtest.Env(t.TempDir(), data), "NO_COLOR=1", "LANG=C", "TERM=vt100"),
	})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, term.Kill()) })
	h := &hand{t: t, term: term, data: data}
	h.see("go on with Wren's exam")
	for _, line := range h.term.Screen() {
		for _, r := range line {
			assert.Less(t, r, rune(128), "a terminal without UTF-8 gets ASCII: %s", line)
		}
	}
	assert.True(t, strings.HasPrefix(h.term.Row("go on with Wren"), ">"), "the cursor is a sign")
	h.press("enter")
	h.see("next: ")
	h.leave()
}
