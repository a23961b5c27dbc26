//go:build unix

package main

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// spaces presses space at the given times after the first press and returns when
// each was written into the terminal, in seconds after the first.
func (h *hand) spaces(at ...time.Duration) []float64 {
	h.t.Helper()
	var start time.Time
	written := make([]float64, len(at))
	for i, d := range at {
		if i > 0 {
			<-time.After(time.Until(start.Add(d)))
		}
		now, err := h.term.Write(" ")
		require.NoError(h.t, err)
		if i == 0 {
			start = now
		}
		written[i] = now.Sub(start).Seconds()
	}
	return written
}

// every is n moments with the same time between them.
func every(d time.Duration, n int) []time.Duration {
	out := make([]time.Duration, n)
	for i := range out {
		out[i] = time.Duration(i) * d
	}
	return out
}

// TestFromAnEmptyMachineToAComparison goes the whole way with keys alone, in a
// window of 80x24: a new horse, a full exam with every kind of answer, its
// review, a second visit, the comparison and the trend.
func TestFromAnEmptyMachineToAComparison(t *testing.T) {
	t.Parallel()
	data := t.TempDir() + "/record"
	h := sit(t, data)
	h.see("n  add your first horse: a name is enough")
	h.see("loosebox makes no diagnosis")

	h.newHorse()
	h.press("b")
	h.see("[begin the exam]")
	h.see("[Full exam]")
	h.begin()
	h.seeLine(` 0 of \d+  [░ ]+$`)
	written, refills := h.fullExam()
	h.finishUntold()

	h.press("esc") // the horse's page, or the exam below the review
	h.toHorse()
	h.press("b")
	h.see("[Full exam]")
	h.press("2")
	h.see("[TPR recheck]")
	h.begin()
	h.seeLine(` 0 of 8  [░ ]+$`)
	h.recheck()
	h.finish()

	h.press("c")
	h.compareAndTrend()
	h.leave()

	all := visits(t, data, "Clover")
	require.Len(t, all, 2)
	assert.Equal(t, "tpr-recheck", all[0].Visit.Routine)
	assert.NotNil(t, all[0].Visit.ClosedAt)
	full := all[1]
	assert.NotNil(t, full.Visit.ClosedAt)
	assertFullExam(t, full, written, refills)
	sound(t, data)
}

// newHorse writes down a mare of nine years with a caution.
func (h *hand) newHorse() {
	h.press("n")
	h.see("New horse")
	h.write("Clover")
	h.press("enter", "enter") // a horse
	h.seeLine(`> +sex: `)
	h.press("1")
	h.seeLine(`\[mare\]`)
	h.press("down", "down") // not in foal
	h.seeLine(`> +born: `)
	h.write(fmt.Sprintf("%d-05-04", time.Now().Year()-9))
	h.see("ranges used: adult light horse")
	h.moveTo("down", "> ", "other cautions: _")
	h.write("needle-shy")
	h.press("ctrl+s")
	h.see("type your name or initials") // needed now, and not before
	h.write("Ann Bell")
	h.press("ctrl+s")
	h.see("No visit yet: b begins the first exam.")
	h.see("needle-shy")
}

// fullExam answers every place of the full exam and returns when the taps of the
// heart were written into the terminal, and how long the two refill times were held.
func (h *hand) fullExam() (taps, refills []float64) {
	h.step("Approach and handler", "1", "enter")
	h.more(1)
	h.see("needle-shy") // the caution stays in sight
	h.step("Demeanor", "u")
	h.more(1)
	h.step("Posture", "u")
	h.more(1)
	h.step("Breathing rate", "t", "4", "enter", "1", "2", "enter") // a rate read elsewhere
	h.more(1)
	h.step("Breathing effort, 0 to 4", "1", "enter")
	h.more(1)
	h.step("Signs of pain", "1", "space", "enter")
	h.more(1)
	h.step("Grimace total, 0 to 12", "0", "0", "0", "0", "0", "0")
	h.more(1)
	h.step("A few steps at walk", "u")
	h.more(1)
	h.step("Urine", "u")
	h.more(1)
	h.step("Manure", "u")
	h.more(1)
	h.temperature()
	h.more(1)
	h.step("Body weight", "2")
	h.write("542kg")
	h.press("enter")
	h.more(1)
	h.step("Condition score, 1 to 9", "5", "enter")
	h.more(1)
	taps = h.heart()
	h.more(1)
	h.step("Heart rhythm", "u")
	h.more(1)
	h.step("Heart murmur, 0 to 6, left", "u")
	h.more(1)
	h.step("Lung sounds", "a")
	h.more(2)
	h.step("Gut sounds", "2", "enter") // left upper
	h.more(1)
	h.step("Gut sounds", "u") // left lower
	h.more(1)
	h.notDone()
	h.more(1)
	refills = h.rightSideAndHead()
	h.limbs()
	return taps, refills
}

// temperature is refused, corrected, and typed with its unit.
func (h *hand) temperature() {
	h.step("Rectal temperature")
	h.write("384")
	h.press("enter")
	h.see("did you mean 38.4 C")
	h.press("backspace", "backspace", "backspace")
	h.write("101.2F")
	h.see("= 38.4 C")
	h.press("enter")
}

// heart is tapped; the short count is kept on the second press of enter.
func (h *hand) heart() []float64 {
	h.step("Heart rate")
	h.see("space at each beat")
	taps := h.tap(`8 taps +5 s`, every(750*time.Millisecond, 10)...)
	h.press("enter")
	h.see("tap a heart for at least 15 s")
	h.press("enter")
	return taps
}

// notDone passes the belly over, with a reason and a note.
func (h *hand) notDone() {
	h.step("Belly shape", "w")
	h.see("Comment on Belly shape")
	h.write("would not let me")
	h.press("enter")
	h.see("The comment is saved.")
	h.press("x")
	h.see("Not done: why?")
	h.press("2")
	h.see("> 2 unsafe")
	h.press("enter")
}

func (h *hand) rightSideAndHead() (refills []float64) {
	h.step("Heart murmur, 0 to 6, right", "u")
	h.more(1)
	h.step("Lung sounds", "2", "space", "3") // right upper: two marks
	h.spaces(0)
	h.seeLine(`3 \[x\] crackles`)
	h.press("enter")
	h.more(1)
	h.step("Lung sounds", "u")
	h.more(1)
	h.step("Gut sounds", "a")
	h.more(2)
	h.step("Skin and coat", "u")
	h.more(1)
	h.step("Eye", "a")
	h.more(2)
	h.step("Nostril", "1", "enter")
	h.more(1)
	h.step("Nostril", "u")
	h.more(1)
	h.jumpAndComeBack()
	h.step("Cough", "u")
	h.more(1)
	h.step("Nodes under jaw and throat", "u")
	h.more(1)
	h.step("Pulse under the jaw", "u")
	h.more(1)
	h.step("Mouth and teeth", "u")
	h.more(1)
	h.step("Gum color", "u")
	h.more(1)
	h.step("Gum moisture", "u")
	h.more(1)
	refills = h.refill()
	h.more(1)
	h.step("Jugular filling", "u")
	h.more(1)
	h.step("Skin tent time")
	h.write("1.0")
	h.press("enter")
	h.more(1)
	h.step("Crest of the neck, 0 to 5", "1", "enter")
	h.more(1)
	return refills
}

// jumpAndComeBack corrects the temperature by way of the order of steps.
func (h *hand) jumpAndComeBack() {
	h.step("Cough", "o")
	h.see("Choose a step at the left")
	h.moveTo("up", " >", "temperature")
	h.press("enter")
	h.see("next: cough")
	h.step("Rectal temperature")
	h.write("38.9")
	h.press("enter")
	h.see("temperature: 38.9 C")
}

// refill is timed twice; it returns the times between the presses as they were written.
func (h *hand) refill() (held []float64) {
	h.step("Gum refill time (CRT)")
	first := h.spaces(0, 1400*time.Millisecond)
	h.see("1 of 3")
	<-time.After(400 * time.Millisecond) // a new press, no repeat of a held key
	second := h.spaces(0, 1600*time.Millisecond)
	h.see("2 of 3")
	h.press("enter")
	return []float64{first[1], second[1]}
}

// limbs goes to each leg once; the four steps of a leg are one screen.
func (h *hand) limbs() {
	for _, leg := range []string{"left fore", "left hind", "right hind", "right fore"} {
		h.step("Limb, "+leg, "u")
		h.more(1)
		h.step("Limb warmth, "+leg, "x")
		h.see("Not done: why?")
		h.press("3", "enter") // no time
		h.more(1)
		h.step("Hoof heat, "+leg, "u")
		h.more(1)
		h.step("Digital pulse, 0 to 4, "+leg, "2", "enter")
		h.more(1)
	}
	h.step("Udder, vulva or sheath", "u")
	h.more(1)
	h.step("Anything else")
	h.write("stood well")
	h.press("enter")
	h.see("Review · Clover")
}

// finish closes the visit from its review.
func (h *hand) finish() {
	h.see("not closed")
	h.press("f")
	h.see("enter closes the visit")
	h.press("enter")
	h.seeLine(`closed \d\d:\d\d$`)
}

// finishUntold closes a visit that holds something for the veterinarian, without a hand-off: that is asked about.
func (h *hand) finishUntold() {
	h.see("not closed")
	h.press("f")
	h.see("For the veterinarian, and not handed off:")
	h.press("4")
	h.see("> 4 it is handed off later")
	h.press("enter")
	h.see("enter closes the visit")
	h.press("enter")
	h.seeLine(`closed \d\d:\d\d$`)
}

// toHorse goes back to the horse's page.
func (h *hand) toHorse() {
	h.t.Helper()
	h.until("esc", func(x *termtest.Terminal) bool { return x.Shows("b begin exam") })
}

// recheck answers the eight places of the second visit.
func (h *hand) recheck() {
	h.step("Approach and handler", "1", "enter")
	h.answered(1)
	h.step("Demeanor", "u")
	h.answered(2)
	h.step("Breathing rate", "t", "4", "enter", "1", "4", "enter")
	h.answered(3)
	h.step("Breathing effort, 0 to 4", "u")
	h.answered(4)
	h.step("Rectal temperature")
	h.see("last 38.9 C")
	h.write("38.1")
	h.press("enter")
	h.answered(5)
	h.step("Heart rate", "t", "4", "enter", "4", "0", "enter")
	h.answered(6)
	h.step("Heart rhythm", "u")
	h.answered(7)
	h.step("Anything else", "x", "?", "q") // letters are text here
	h.see("x?q_")
	h.press("enter")
	h.see("Review · Clover")
}

func (h *hand) compareAndTrend() {
	h.see("Comparison")
	h.press("a") // all findings
	h.moveTo("down", "> ", "temperature")
	h.seeLine(`temperature .* 38\.1\*? .* .?38\.9`)
	h.press("enter")
	h.see("Trend")
	h.see("38.9")
	h.see("38.1")
	h.press("esc")
	h.see("Comparison")
}

func assertFullExam(t *testing.T, v shown, written, refills []float64) {
	t.Helper()
	assert.Equal(t, []string{"held"}, v.at(t, "approach", "").Value.Words)
	assert.True(t, v.at(t, "demeanour", "").Value.Usual)
	assert.InDelta(t, 12, v.at(t, "breath.rate", "").Value.Number.Value, 0)
	temp := v.at(t, "temp.rectal", "")
	assert.Equal(t, "38.9", temp.Value.Typed)
	assert.Equal(t, "C", temp.Value.Number.Unit)
	assert.InDelta(t, 542, v.at(t, "weight.body", "").Value.Number.Value, 0)
	assert.Equal(t, "unsafe", v.at(t, "belly.distension", "").NotDone)
	assert.Equal(t, []string{"harsh", "crackles"}, v.at(t, "lung.sounds", "right upper").Value.Words)
	assert.Equal(t, []string{"reduced"}, v.at(t, "gut.sounds", "left upper").Value.Words)
	refill := v.at(t, "gum.refill", "").Value
	require.Len(t, refill.TrialsS, 2)
	assert.InDelta(t, refills[0], refill.TrialsS[0], late)
	assert.InDelta(t, refills[1], refill.TrialsS[1], late)
	for _, foot := range []string{"left fore", "right fore", "left hind", "right hind"} {
		assert.Equal(t, "no time", v.at(t, "limb.warmth", foot).NotDone)
		assert.True(t, v.at(t, "hoof.heat", foot).Value.Usual)
	}
	assert.Equal(t, "stood well", v.at(t, "note", "").Value.Text)
	require.Len(t, v.Visit.Notes, 1)
	assert.Equal(t, "would not let me", v.Visit.Notes[0].Text)

	heart := v.at(t, "heart.rate", "").Value
	require.NotNil(t, heart.Count)
	require.Len(t, heart.Count.TapsS, len(written))
	assertStamps(t, written, heart.Count.TapsS)
	assert.InDelta(t, 80, heart.Number.Value, 2) // 0.75 s apart: 60 / 0.75
}

// late is how many seconds a busy machine may read one press after it was written; beats come further apart.
const late = 0.5

// assertStamps checks the times of taps against those at which they were written into the terminal, of which the first is
// zero. Most taps are within a twentieth of a second; a machine that is busy may read a few late.
func assertStamps(t *testing.T, written, taps []float64) {
	t.Helper()
	lag := make([]float64, len(written))
	for i := range written {
		lag[i] = taps[i] - taps[0] - written[i]
	}
	usual := slices.Sorted(slices.Values(lag))[len(lag)/2]
	near := 0
	for i, l := range lag {
		assert.InDelta(t, usual, l, late, "tap %d", i+1)
		if math.Abs(l-usual) <= 0.05 {
			near++
		}
	}
	assert.GreaterOrEqual(t, near, len(lag)*3/4, "seconds behind the taps as they were written: %v", lag)
}
