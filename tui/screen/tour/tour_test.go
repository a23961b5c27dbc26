package tour_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/examtest"
	"loosebox/tui"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/tour"
	"loosebox/tui/screentest"
)

func TestPagesAreDrawnInEverySize(t *testing.T) {
	for name, page := range map[string]int{"tour": 0, "tour-done": 1} {
		screentest.Goldens(t, name, func(t *testing.T, size layout.Size) *screentest.Driver {
			deps, _ := screentest.Deps(t)
			d := screentest.New(t, deps, tour.New, nav.Address{Screen: nav.Tour, Number: page}, size)
			d.Squeeze()
			return d
		})
	}
}

// house is the whole program with a clock set by the test.
type house struct {
	t       *testing.T
	app     *tui.App
	deps    *nav.Deps
	store   *examtest.Store
	now     time.Time
	waiting []alarm
	size    layout.Size
}

type alarm struct {
	due time.Time
	msg tea.Msg
}

func newHouse(t *testing.T, size layout.Size) *house {
	t.Helper()
	h := &house{t: t, now: screentest.Now(), size: size}
	h.deps, h.store = screentest.Deps(t)
	h.deps.Now = func() time.Time { return h.now }
	h.deps.After = func(d time.Duration, msg tea.Msg) tea.Cmd {
		h.waiting = append(h.waiting, alarm{h.now.Add(d), msg})
		return nil
	}
	h.app = tui.New(h.deps, tui.Screens(), nav.Address{Screen: nav.Home})
	h.send(tea.WindowSizeMsg{Width: size.W, Height: size.H})
	screentest.Run(h.app.Init(), h.send)
	return h
}

func (h *house) send(msg tea.Msg) {
	_, cmd := h.app.Update(msg)
	screentest.Run(cmd, h.send)
}

// pass lets so many seconds pass.
func (h *house) pass(seconds float64) {
	until := h.now.Add(time.Duration(seconds * 1e9))
	for {
		first := -1
		for i, a := range h.waiting {
			if !a.due.After(until) && (first < 0 || a.due.Before(h.waiting[first].due)) {
				first = i
			}
		}
		if first < 0 {
			break
		}
		a := h.waiting[first]
		h.waiting = slices.Delete(h.waiting, first, first+1)
		if a.due.After(h.now) {
			h.now = a.due
		}
		h.send(a.msg)
	}
	h.now = until
}

func (h *house) press(names ...string) {
	for _, name := range names {
		h.pass(0.5)
		h.send(screentest.Key(name))
	}
}

func (h *house) view() string {
	h.t.Helper()
	lines := layout.Lines(h.app.View())
	require.Len(h.t, lines, h.size.H)
	for _, line := range lines {
		require.LessOrEqual(h.t, ansi.StringWidth(line), h.size.W, "%q", line)
	}
	return ansi.Strip(strings.Join(lines, "\n"))
}

func (h *house) reads(text string) bool {
	return strings.Contains(strings.Join(strings.Fields(h.view()), " "), text)
}

func (h *house) must(texts ...string) {
	h.t.Helper()
	for _, text := range texts {
		require.True(h.t, h.reads(text), "%q in\n%s", text, h.view())
	}
}

// count taps a steady 40 a minute for 24 s.
func (h *house) count() {
	for range 17 {
		h.pass(1.5)
		h.send(screentest.Key("space"))
	}
}

// walk presses what the tour says, on the real screens, up to the review.
func (h *house) walk() {
	h.t.Helper()
	h.press("i")
	h.must("Five minutes", "nothing is saved")
	h.press("enter")
	h.must("REHEARSAL", "1 of 6: choose", "1 bright and alert")
	h.press("1", "enter")
	h.must("2 of 6: usual", "1 dry")
	h.press("a")
	h.must("3 of 6: later")
	h.press("tab")
	h.must("4 of 6: tap")
	h.count()
	h.must("/min", "steady")
	h.press("enter")
	h.must("5 of 6: order")
	h.press("o", "up", "up", "enter")
	h.must("Here it is")
	h.press("u")
	h.must("6 of 6: not done")
	h.press("x", "1", "enter")
}

// Every key that the tour names does what it says, on the screens of the exam, in every size; it ends in the rehearsal of
// the short routine, and nothing of it is stored.
func TestTheTourIsWalkedThrough(t *testing.T) {
	for _, size := range screentest.Sizes() {
		h := newHouse(t, size)
		h.must("i take the tour first")
		h.walk()
		h.must("Review")
		h.press("f", "enter")
		h.must("Those were the keys of an exam: choose,", "TPR recheck")
		h.press("enter")
		h.must("Rehearse an exam", "TPR recheck")
		assert.Zero(t, h.store.Writes(), "the record")
		assert.Zero(t, h.deps.Rehearsals.(*examtest.Store).Writes(), "the rehearsals")
		h.press("esc")
		h.must("i take the tour first")
	}
}

// Keys that the tour did not ask for do what they do in an exam, and the tour goes on.
func TestOtherKeysAreNotForbidden(t *testing.T) {
	h := newHouse(t, layout.Size{W: 80, H: 24})
	h.press("i", "enter", "x", "1", "enter")
	h.must("2 of 6: usual", "not done")
	h.press("tab", "tab", "tab")
	h.must("5 of 6: order")
	h.press("shift+tab", "shift+tab")
	h.must("3 of 6: later")
	h.press("w")
	h.press("o", "k", "enter")
	h.must("The comment is saved.")
	h.press("?")
	h.must("Help")
	h.press("?", "r")
	h.must("Review")
	h.press("esc", "esc")
	h.must("i take the tour first")
	assert.Zero(t, h.store.Writes())
}

func TestTheHelpOfTheHomeScreenLeadsThereToo(t *testing.T) {
	h := newHouse(t, layout.Size{W: 80, H: 24})
	h.press("?")
	h.must("a five-minute tour of the keys with a")
	h.press("i")
	h.must("Five minutes with a simulated horse: five")
	h.press("esc", "n", "?", "i")
	assert.False(t, h.reads("Five minutes"), "not over a screen in use")
}

func TestWithoutAName(t *testing.T) {
	h := newHouse(t, layout.Size{W: 80, H: 24})
	h.deps.Settings.Person = ""
	h.press("i", "enter", "1", "enter")
	h.must("2 of 6: usual")
}

// A record that cannot be written does not matter to the tour.
func TestTheTourNeedsNoDisk(t *testing.T) {
	h := newHouse(t, layout.Size{W: 80, H: 24})
	h.store.FailWith(errors.New("the disk is full"))
	h.deps.Rehearsals.(*examtest.Store).FailWith(errors.New("the disk is full"))
	h.walk()
	h.must("Review")
}
