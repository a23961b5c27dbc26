//go:build unix

package main

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// patience is how long the program may take to show what is waited for.
const patience = 60 * time.Second

// demoYard is the record of the demo, made once for all tests: each works on a copy.
var demoYard = sync.OnceValues(func() (string, error) {
	file, err := program()
	if err != nil {
		return "", err
	}
	yard := filepath.Join(filepath.Dir(file), "yard")
	c := exec.Command(file, "demo", "--keep", yard)
	c.Env = termtest.Env(filepath.Dir(file), yard) // the key in the yard, so that its copies have it
	if out, err := c.CombinedOutput(); err != nil {
		return "", fmt.Errorf("make the yard: %w: %s", err, out)
	}
	return yard, nil
})

// hand is somebody at the keyboard of the program in a window.
type hand struct {
	t    *testing.T
	term *termtest.Terminal
	data string
	done int // places answered, as answered and more have seen
}

// sit starts the program in a window of 80x24 with the record in a folder.
func sit(t *testing.T, data string, args ...string) *hand {
	t.Helper()
	file, err := program()
	require.NoError(t, err)
	term, err := termtest.Start(termtest.Options{
		Program: file, Args: args, W: 80, H: 24, Env: termtest.Env(t.TempDir(), data),
	})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, term.Kill()) })
	return &hand{t: t, term: term, data: data}
}

// begin begins an exam from its form, where nobody said what medicine was given: that is asked once.
func (h *hand) begin() {
	h.t.Helper()
	h.see("[begin the exam]")
	h.press("ctrl+s")
	h.see("Not asked yet.")
	h.press("ctrl+s")
}

// press presses keys.
func (h *hand) press(keys ...string) {
	h.t.Helper()
	require.NoError(h.t, h.term.Send(keys...))
}

// write types text.
func (h *hand) write(text string) {
	h.t.Helper()
	require.NoError(h.t, h.term.Type(text))
}

// see waits until the text is on the screen.
func (h *hand) see(text string) {
	h.t.Helper()
	require.NoError(h.t, h.term.WaitFor(text, patience))
}

// seeLine waits until a line of the screen matches.
func (h *hand) seeLine(pattern string) []string {
	h.t.Helper()
	re := regexp.MustCompile(pattern)
	var match []string
	require.NoError(h.t, h.term.Until(pattern, func(x *termtest.Terminal) bool {
		for _, line := range x.Screen() {
			if match = re.FindStringSubmatch(line); match != nil {
				return true
			}
		}
		return false
	}, patience))
	return match
}

// tap taps a count until a line of the screen matches. A machine that is late hands on two
// presses at once, and the second is left out like that of a held key: the count is begun
// anew then.
func (h *hand) tap(pattern string, at ...time.Duration) (written []float64) {
	h.t.Helper()
	re := regexp.MustCompile(pattern)
	for range 10 {
		written = h.spaces(at...)
		counted := false
		require.NoError(h.t, h.term.Until(pattern, func(x *termtest.Terminal) bool {
			text := strings.Join(x.Screen(), "\n")
			counted = re.MatchString(text)
			return counted || strings.Contains(text, "left out")
		}, patience))
		if counted {
			return written
		}
		h.tapAnew()
	}
	require.Fail(h.t, "no count was whole: "+pattern, h.screen())
	return nil
}

// tapAnew discards a count and begins it again.
func (h *hand) tapAnew() {
	h.t.Helper()
	h.press("n")
	h.see("Press n again to discard")
	h.press("n")
	h.see("space at each beat")
}

// unsee waits until the text is gone from the screen.
func (h *hand) unsee(text string) {
	h.t.Helper()
	require.NoError(h.t, h.term.WaitGone(text, patience))
}

// whole is how long nothing may come before a frame counts as drawn: it may arrive
// in several pieces.
const whole = 30 * time.Millisecond

// until presses a key until the screen is as it should be; each press must have
// changed the screen before the next. It presses only for the screen that it looked at:
// one that was drawn meanwhile is looked at first.
func (h *hand) until(key string, good func(*termtest.Terminal) bool) {
	h.t.Helper()
	for range 80 {
		var before string
		done := false
		require.NoError(h.t, h.term.Until("a whole screen", func(x *termtest.Terminal) bool {
			before = h.screen()
			done = good(x)
			return h.screen() == before
		}, patience))
		if done {
			return
		}
		h.press(key)
		require.NoError(h.t, h.term.Until("a change after "+key, func(x *termtest.Terminal) bool { return h.screen() != before || good(x) }, patience))
		h.term.Settle(whole)
	}
	require.Failf(h.t, "pressed too often", "%s:\n%s", key, h.screen())
}

// moveTo presses a key until the line that begins with the cursor holds the text.
func (h *hand) moveTo(key, cursor, text string) {
	h.t.Helper()
	h.until(key, func(x *termtest.Terminal) bool {
		for _, line := range x.Screen() {
			if strings.HasPrefix(line, cursor) && strings.Contains(line, text) {
				return true
			}
		}
		return false
	})
}

func (h *hand) screen() string { return strings.Join(h.term.Screen(), "\n") }

// step says which step is asked, how it is answered, and how many places are
// answered then.
func (h *hand) step(name string, keys ...string) {
	h.t.Helper()
	h.seeLine(`│ ` + regexp.QuoteMeta(name) + `$`)
	h.press(keys...)
}

// answered waits until n places are answered.
func (h *hand) answered(n int) {
	h.t.Helper()
	h.done = n
	h.seeLine(fmt.Sprintf(` %d of \d+( |$)`, n))
}

// more waits until n more places are answered than before.
func (h *hand) more(n int) {
	h.t.Helper()
	h.answered(h.done + n)
}

// leave ends the program by its key.
func (h *hand) leave() {
	h.t.Helper()
	h.press("ctrl+c")
	code, err := h.term.Wait(patience)
	require.NoError(h.t, err)
	assert.Zero(h.t, code)
}

// command runs the built program without a terminal on the same record.
func command(t *testing.T, data string, args ...string) (out, errOut string, code int) {
	t.Helper()
	file, err := program()
	require.NoError(t, err)
	c := exec.Command(file, args...)
	c.Env = termtest.Env(t.TempDir(), data)
	var o, e strings.Builder
	c.Stdout, c.Stderr = &o, &e
	_ = c.Run() // the code says it
	return o.String(), e.String(), c.ProcessState.ExitCode()
}

// shown is what show --as json says of a visit, as far as these tests ask.
type shown struct {
	Visit struct {
		ID       string     `json:"id"`
		Routine  string     `json:"routine"`
		ClosedAt *time.Time `json:"closed_at"`
		Notes    []struct{ Text string }
		Findings []found `json:"findings"`
	} `json:"visit"`
}

type found struct {
	Step    string `json:"step"`
	Site    string `json:"site"`
	NotDone string `json:"not_done"`
	Value   struct {
		Number *struct {
			Value float64 `json:"value"`
			Unit  string  `json:"unit"`
		} `json:"number"`
		Typed   string    `json:"typed"`
		Words   []string  `json:"words"`
		Text    string    `json:"text"`
		Usual   bool      `json:"usual"`
		TrialsS []float64 `json:"trials_s"`
		Count   *struct {
			Method string    `json:"method"`
			TapsS  []float64 `json:"taps_s"`
		} `json:"count"`
	} `json:"value"`
}

// at is the finding at a place.
func (s shown) at(t *testing.T, step, site string) found {
	t.Helper()
	for _, f := range s.Visit.Findings {
		if f.Step == step && f.Site == site {
			return f
		}
	}
	require.Failf(t, "no finding", "%s %s", step, site)
	return found{}
}

// visits are a horse's visits, newest first, each as show --as json has it.
func visits(t *testing.T, data, horse string) []shown {
	t.Helper()
	out, errOut, code := command(t, data, "visits", horse, "--json")
	require.Zero(t, code, errOut)
	var list struct {
		Visits []struct{ ID string }
	}
	require.NoError(t, json.Unmarshal([]byte(out), &list))
	all := make([]shown, len(list.Visits))
	for i, v := range list.Visits {
		out, errOut, code := command(t, data, "show", v.ID, "--as", "json")
		require.Zero(t, code, errOut)
		require.NoError(t, json.Unmarshal([]byte(out), &all[i]))
	}
	return all
}

// sound asserts that check finds nothing broken.
func sound(t *testing.T, data string) {
	t.Helper()
	out, errOut, code := command(t, data, "check")
	assert.Zero(t, code, errOut)
	assert.Contains(t, out, "every line is as it was written")
}
