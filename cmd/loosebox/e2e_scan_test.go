//go:build unix

package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/storage"
)

// The chips of the tests begin with 001, which is no country's.
const (
	brambleChip = "001000000012345"
	teaselChip  = "001000000098765"
	noChip      = "001000000000777"
)

// chipped is the demo's record, in which Bramble and Teasel have chips.
func chipped(t *testing.T) string {
	t.Helper()
	data := watched(t, 20)
	inRecord(t, data, func(r *storage.Record) {
		for name, chip := range map[string]string{"Bramble": brambleChip, "Teasel": teaselChip} {
			h, err := findHorse(r, name)
			require.NoError(t, err)
			h.Chip, h.Revision = chip, h.Revision+1
			_, err = r.SaveHorse(h, "Ann Bell", time.Now())
			require.NoError(t, err)
		}
	})
	return data
}

// record is what stands in a record, to be compared: the horses, and how many
// lines each of their visits has.
func record(t *testing.T, data string) (horses []exam.Horse, lines map[exam.VisitID]int) {
	t.Helper()
	lines = map[exam.VisitID]int{}
	inRecord(t, data, func(r *storage.Record) {
		list, err := r.Horses()
		require.NoError(t, err)
		for _, f := range list {
			horses = append(horses, f.Horse)
			past, err := r.Past(f.Horse.ID, 0)
			require.NoError(t, err)
			for _, v := range past {
				lines[v.ID] = v.Entries
			}
		}
	})
	return horses, lines
}

// scan types a number as a reader does, with enter behind it or in its frame.
func (h *hand) scan(chip string, framed bool) {
	h.t.Helper()
	line := chip + "\r"
	if framed {
		line = "\x02" + chip + "\x03"
	}
	_, err := h.term.Scan(line, 0)
	require.NoError(h.t, err)
}

// scans reads three chips on a screen of Bramble; each says whose it is, and the
// screen stays.
func (h *hand) scans(stays string) {
	h.t.Helper()
	for i, c := range []struct{ chip, words string }{
		{brambleChip, "Right horse: this is the chip of Bramble."},
		{teaselChip, "Wrong horse: this is the chip of Teasel, not of Bramble."},
		{noChip, "No horse in the record has chip " + noChip},
	} {
		h.scan(c.chip, i%2 == 1)
		h.see(c.words)
		h.see(stays)
	}
	h.press("left", "right") // the sentence goes with the next key
	h.unsee("No horse in the record")
}

// TestAScanIsNoAnswer reads the chips of the right horse, of another and of none on
// every kind of screen. What stands in the record afterwards is what was meant.
func TestAScanIsNoAnswer(t *testing.T) {
	t.Parallel()
	data := chipped(t)
	horses, before := record(t, data)

	h := sit(t, data)
	h.see("horses")
	h.scan(teaselChip, false) // home: a chip opens its horse
	h.see("b begin exam")
	h.see("Teasel")
	h.press("esc")
	h.see("10 horses")
	h.scan(noChip, true)
	h.see("has chip " + noChip + ". n adds a new horse") // a new horse with it
	h.press("n")
	h.see("New horse")
	h.see(noChip)
	h.scan(teaselChip, false) // the cursor is in another line
	h.see("This is the chip of Teasel.")
	h.see("name: _")
	h.moveTo("down", ">", "chip:")
	h.scan(teaselChip, true)
	h.see("this chip belongs to Teasel in the record")
	h.press("esc", "esc")
	h.see("10 horses")
	h.press("d") // what is due, of all horses
	h.see("Due")
	h.scan(brambleChip, true)
	h.see("b begin exam")
	h.see("Bramble")
	h.scans("b begin exam") // the page of a horse
	h.press("c")
	h.see("Comparison")
	h.scans("Comparison")
	h.press("esc")
	h.see("b begin exam")
	h.press("b")
	h.see("[begin the exam]")
	h.scans("[begin the exam]")
	h.leave()
	after, lines := record(t, data)
	assert.Equal(t, horses, after)
	assert.Equal(t, before, lines, "nothing is stored that nobody meant")

	h = sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.see("[TPR recheck]")
	h.begin()
	h.seeLine(` 0 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
	for _, step := range []string{"Approach and handler", "Demeanor", "Breathing rate", "Breathing effort, 0 to 4", "Rectal temperature", "Heart rate", "Heart rhythm", "Anything else"} {
		h.step(step)
		h.scans(step) // choices, counts, a scale, a number, words
		h.press("tab")
	}
	h.step("Approach and handler", "x") // a question over the field
	h.see("Not done: why?")
	h.scans("Not done: why?")
	h.press("esc", "r")
	h.see("Review · Bramble")
	h.scans("Review · Bramble")
	h.leave()
	assert.Equal(t, 1, lastVisit(t, data, "Bramble").Entries, "the visit was begun, and that is all")
	sound(t, data)
}

// TestAScanAtTheCheckList: the right chip answers, another's and an unknown one
// stop everything.
func TestAScanAtTheCheckList(t *testing.T) {
	t.Parallel()
	data := chipped(t)
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.short()
	h.press("p")
	h.decide()
	h.after("give Vaccine T")
	h.see("Decided: injection of Vaccine T, IM, 1 dose")
	h.scan(teaselChip, true) // into the lot: no text, and the alarm
	h.see("Wrong horse: this is the chip of Teasel, not of Bramble.")
	h.press("y")
	h.see("lot: _")
	h.write("LT-4471")
	h.press("enter")
	h.write("02/27")
	h.press("enter")
	h.moveTo("down", ">", "volume")
	h.write("1")
	h.press("enter", "space", "ctrl+s")
	h.see("> Right horse")
	h.scan(noChip, false)
	h.see("No horse in the record has chip " + noChip)
	h.press("y")
	h.see("> Right horse")
	h.scan(teaselChip, true)
	h.see("Wrong horse: this is the chip of Teasel, not of Bramble.")
	h.press("enter", "m", "c", "esc")
	h.see("y: I have read this")
	h.press("y")
	h.see("> Right horse")
	h.scan(brambleChip, true)
	h.see("> Right product")
	h.see("Right horse: this is the chip of Bramble.")
	_, err := h.term.Hold("p", 500*time.Millisecond, 33*time.Millisecond, time.Second)
	require.NoError(t, err)
	h.see("> Right dose")                // a held letter answers its own point, and no other
	<-time.After(200 * time.Millisecond) // a reader goes off some time after a key
	h.scan(teaselChip, false)
	h.see("Wrong horse")
	h.press("y")
	h.see("> Right horse")
	h.see("is removed")
	h.leave()
	assert.Empty(t, lastVisit(t, data, "Bramble").Injections, "the list was not saved")
	sound(t, data)
}

// TestAReaderOfAnySpeed reads a chip at the first step of an exam, a few milliseconds
// a character. Where this machine was too busy to be as fast, the line was typed like
// a hand's, and is begun anew.
func TestAReaderOfAnySpeed(t *testing.T) {
	t.Parallel()
	data := chipped(t)
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.see("[TPR recheck]")
	h.begin()
	h.seeLine(` 0 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
	for _, gap := range []time.Duration{2 * time.Millisecond, 10 * time.Millisecond} {
		for _, line := range []string{brambleChip, "\x02" + brambleChip, teaselChip} {
			for range 8 {
				longest, err := h.term.Scan(line, gap)
				require.NoError(t, err)
				if longest > 30*time.Millisecond {
					<-time.After(time.Second)
					h.press("x", "esc")
					h.step("Approach and handler")
					continue
				}
				said := func(text string) bool { return strings.Contains(h.screen(), text) }
				require.NoError(t, h.term.Until("what the reader sent", func(*termtest.Terminal) bool {
					return said("the chip of ") || said("Nothing was answered")
				}, patience))
				if !said("the chip of ") { // a busy machine took it in two pieces; it answered nothing all the same
					<-time.After(time.Second)
					h.press("left", "right")
					continue
				}
				h.seeLine(` 0 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
				h.press("left", "right")
				h.unsee("the chip of ")
				break
			}
		}
	}
	h.leave()
	assert.Equal(t, 1, lastVisit(t, data, "Bramble").Entries)
}

// TestAHeldKeyAnswersOnce holds keys for two seconds at the rates of keyboards. A
// machine too busy to repeat a key in time lets it go, and the next step is tried.
func TestAHeldKeyAnswersOnce(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "exam", "Bramble", "--routine", "full-exam")
	h.see("[Full exam]")
	h.begin()
	h.seeLine(` 0 of \d+  [░█▏▎▍▌▋▊▉ ]+$`)
	h.step("Approach and handler", "1")
	answered := 0
	hold := func(key string, gap time.Duration) bool {
		longest, err := h.term.Hold(key, 500*time.Millisecond, gap, 2*time.Second)
		require.NoError(t, err)
		<-time.After(time.Second)
		was := answered
		answered = h.places()
		if longest >= 100*time.Millisecond {
			return false
		}
		assert.Equal(t, was+1, answered, "%s every %s:\n%s", key, gap, h.screen())
		return true
	}
	hold("enter", 33*time.Millisecond)
	for _, step := range []struct{ name, id string }{{"Demeanor", ""}, {"Posture", ""}} {
		h.moveToStep(step.name)
		hold("u", 33*time.Millisecond)
	}
	h.moveToStep("Breathing effort, 0 to 4")
	hold("u", 92*time.Millisecond)
	h.moveToStep("A few steps at walk")
	hold("u", 92*time.Millisecond)
	h.leave()
	assert.Len(t, lastVisit(t, data, "Bramble").Findings, answered)
}

// places is how many places are answered, as the first line says.
func (h *hand) places() int {
	h.t.Helper()
	match := h.seeLine(` (\d+) of \d+  [░█▏▎▍▌▋▊▉ ]+$`)
	n := 0
	for _, c := range match[1] {
		n = n*10 + int(c-'0')
	}
	return n
}

// moveToStep passes steps over with tab until one is asked.
func (h *hand) moveToStep(name string) {
	h.t.Helper()
	for range 60 {
		before := h.screen()
		if h.term.Shows("│ " + name) {
			return
		}
		h.press("tab")
		require.Eventually(h.t, func() bool { return h.screen() != before }, patience, 5*time.Millisecond)
		h.term.Settle(whole)
	}
	require.Fail(h.t, "no step "+name, h.screen())
}

// A held key on home opens one screen, and presses of a person all count there.
func TestAHeldKeyOnHome(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data)
	h.see("today's round") // the last of the screen to be read
	h.moveTo("down", ">", "Bramble")
	_, err := h.term.Hold("enter", 500*time.Millisecond, 33*time.Millisecond, 2*time.Second)
	require.NoError(t, err)
	h.see("b begin exam")
	h.press("b")
	h.see("[begin the exam]")
	_, err = h.term.Hold("esc", 500*time.Millisecond, 33*time.Millisecond, 2*time.Second)
	require.NoError(t, err)
	h.see("b begin exam") // one step back, and no further
	h.press("down")       // ctrl+c read together with the last esc would be another key
	h.leave()
}
