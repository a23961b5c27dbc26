//go:build unix

package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// TestARehearsalFromTheDoorToTheMarks plays a short routine with keys alone: the
// moments of danger, a heart counted as its pulse shows on the screen, the review,
// and the marks. The program is closed in between and goes on.
func TestARehearsalFromTheDoorToTheMarks(t *testing.T) {
	t.Parallel()
	data := t.TempDir() + "/record"
	animal := simulated(t, "clover", 5)
	h := sit(t, data, "rehearse", "--case", "clover", "--seed", "5", "--routine", "tpr-recheck", "--by", "Ann Bell")
	h.see("[go to the horse]")
	h.press("enter")
	h.see("The groom:")
	h.press("1", "space", "ctrl+s")
	h.moment(animal, "approach")
	h.seeLine(`^REHEARSAL, not a real horse .* 0 of 8\b`)
	h.step("Approach and handler", "1", "enter")
	h.moment(animal, "demeanour")
	h.step("Demeanor", "1", "enter")
	h.seeLine(`│ Breathing rate$`)
	h.leave()

	h = sit(t, data)
	h.see("loosebox")
	h.press("j")
	h.see("a new rehearsal")
	h.press("2", "ctrl+s")
	h.moment(animal, "breath.rate")
	h.step("Breathing rate", "t", "4", "enter")
	rate, _ := animal.Truth(exam.Key{Step: "breath.rate"})
	h.write(notation.FormatNumber(rate.Number.Value, 0))
	h.press("enter")
	h.moment(animal, "breath.effort")
	h.step("Breathing effort, 0 to 4", "0", "enter")
	h.moment(animal, "temp.rectal")
	h.write(h.seeLine(`beep: (\d\d\.\d) C`)[1])
	h.press("enter")
	h.moment(animal, "heart.rate")
	h.heartByPulse(15)
	h.step("Heart rhythm", "1", "enter")
	h.step("Anything else", "enter")
	h.write("no")
	h.press("enter")
	h.see("Review ·")
	h.press("f", "enter")
	h.see("Marks")
	h.see("Score:")
	h.see("Take enough time") // the rhythm was named after a moment
	h.leave()

	for _, c := range lastCounts(t, data) {
		if c.Step == "breath.rate" {
			assert.False(t, c.Right, "typed after a moment")
			assert.NotEmpty(t, c.Short)
		}
		if c.Step == "heart.rate" {
			assert.True(t, c.Right)
			assert.Equal(t, "the beats between your first and last tap", c.Basis)
			assert.InDelta(t, 0.04, c.SigmaS, 0.04, "taps on what was drawn")
		}
	}
	out, errOut, code := command(t, data, "horses")
	require.Zero(t, code, errOut)
	assert.NotContains(t, out, "Clover", "no simulated horse among the real ones")
	sound(t, data)
}

// simulated is the horse of a case and a seed.
func simulated(t *testing.T, name string, seed uint64) *rehearse.Horse {
	t.Helper()
	held, err := ranges.BuiltIn()
	require.NoError(t, err)
	cases, err := rehearse.Cases(steps.Table(), held)
	require.NoError(t, err)
	c, ok := rehearse.CaseNamed(cases, name)
	require.True(t, ok)
	horse, err := rehearse.New(c, seed, time.Now(), steps.Table(), held)
	require.NoError(t, err)
	return horse
}

// moment answers the moment of danger at a step, if the horse has one there, with
// the number of its safe option. Enter is no answer, and the number is one once the
// question has stood for long enough to be read.
func (h *hand) moment(animal *rehearse.Horse, at exam.StepID) {
	h.t.Helper()
	m, ok := animal.MomentAt(exam.Key{Step: at}, exam.Visit{})
	if !ok {
		return
	}
	h.see(m.Asks)
	h.press("enter")
	safe := slices.IndexFunc(m.Options, func(o rehearse.Option) bool { return o.Safe })
	var err error
	for range 10 {
		h.press(fmt.Sprint(safe + 1))
		if err = h.term.WaitGone(m.Asks, time.Second); err == nil {
			return
		}
	}
	require.NoError(h.t, err)
}

// heartByPulse taps as the pulse is drawn. Where the machine was late, so that a beat went by and the gap is asked about, or
// a tap came far out of its time, the count is begun anew.
func (h *hand) heartByPulse(taps int) {
	h.t.Helper()
	h.seeLine(`│ Heart rate$`)
	lit := func(want bool) {
		h.t.Helper()
		require.NoError(h.t, h.term.Until("the pulse", func(x *termtest.Terminal) bool {
			return regexp.MustCompile(`│ beat +█`).MatchString(strings.Join(x.Screen(), "\n")) == want
		}, patience))
	}
	for range 30 {
		var at []time.Time
		lit(false)
		for range taps {
			lit(true)
			h.press("space")
			at = append(at, time.Now())
			lit(false)
		}
		if outOfTime(at) {
			h.tapAnew()
			continue
		}
		h.press("enter")
		gap := false
		require.NoError(h.t, h.term.Until("the next step", func(x *termtest.Terminal) bool {
			gap = x.Shows("A gap of")
			return gap || x.Shows("│ Heart rhythm")
		}, patience))
		if !gap {
			return
		}
		h.press("backspace")
		h.tapAnew()
	}
	require.Fail(h.t, "no count was whole", h.screen())
}

// outOfTime reports whether an interval is a sixth of a second off the middle one: the machine was busy with something else.
func outOfTime(at []time.Time) bool {
	var gaps []time.Duration
	for i := range at[1:] {
		gaps = append(gaps, at[i+1].Sub(at[i]))
	}
	slices.Sort(gaps)
	middle := gaps[len(gaps)/2]
	return max(middle-gaps[0], gaps[len(gaps)-1]-middle) > time.Second/6
}

// countMark is a count in the marks, as far as this test asks.
type countMark struct {
	Step   string
	Basis  string
	Right  bool
	Short  string  `json:"too_short"`
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
