//go:build unix

package main

import (
	"fmt"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/storage"
)

// watched is the demo's record of a practice that watches for so many minutes.
func watched(t *testing.T, minutes int) string {
	t.Helper()
	data := yard(t)
	inRecord(t, data, func(r *storage.Record) {
		value, err := exam.SettingWatch.Read(strconv.Itoa(minutes))
		require.NoError(t, err)
		require.NoError(t, r.SaveSetting(exam.Setting{Key: exam.SettingWatch, Value: value, By: "Ann", At: time.Unix(0, 0)}))
	})
	return data
}

func inRecord(t *testing.T, data string, do func(*storage.Record)) {
	t.Helper()
	r, err := storage.Open(data, storage.Options{})
	require.NoError(t, err)
	do(r)
	require.NoError(t, r.Close())
}

// lastVisit is a horse's newest visit as the record has it, while no program runs.
func lastVisit(t *testing.T, data, horse string) (v exam.Visit) {
	t.Helper()
	inRecord(t, data, func(r *storage.Record) {
		h, err := findHorse(r, horse)
		require.NoError(t, err)
		past, err := r.Past(h.ID, 1)
		require.NoError(t, err)
		require.Len(t, past, 1)
		v = past[0]
	})
	return v
}

// short answers the eight places of the short routine.
func (h *hand) short() {
	h.t.Helper()
	h.see("[TPR recheck]") // what was last is read, and the line of the routine is under the cursor
	h.begin()
	h.seeLine(` 0 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
	h.recheckUnusual()
}

// recheckUnusual answers them without what was there before.
func (h *hand) recheckUnusual() {
	h.step("Approach and handler", "1", "enter")
	h.answered(1)
	h.step("Demeanor", "u")
	h.answered(2)
	h.step("Breathing rate", "t", "4", "enter", "1", "4", "enter")
	h.answered(3)
	h.step("Breathing effort, 0 to 4", "u")
	h.answered(4)
	h.step("Rectal temperature")
	h.write("37.8")
	h.press("enter")
	h.answered(5)
	h.step("Heart rate", "t", "4", "enter", "4", "0", "enter")
	h.answered(6)
	h.step("Heart rhythm", "u")
	h.answered(7)
	h.step("Anything else")
	h.write("well")
	h.press("enter")
	h.see("not closed")
}

// after goes to a line of what follows the exam and opens it.
func (h *hand) after(line string) {
	h.t.Helper()
	h.see("After the exam · ")
	h.moveTo("up", ">", "hand-off")
	h.moveTo("down", ">", line)
	h.press("enter")
}

// handOff reads the page and writes down to whom.
func (h *hand) handOff() {
	h.after("hand-off")
	h.see("WHY I CALL")
	h.press("enter")
	h.see("to whom: _")
	h.write("Dr. R. Sommer")
	h.press("ctrl+s")
}

// decide writes down that a vaccine may be given and blood drawn.
func (h *hand) decide() {
	h.after("save a decision of the veterinarian")
	h.see("Decision of the veterinarian")
	h.moveTo("down", ">", "in these words")
	h.write("Vaccinate her and take blood for a count.")
	h.press("enter", "1") // go ahead
	h.moveTo("up", ">", "veterinarian:")
	h.until("backspace", func(x *termtest.Terminal) bool { return x.Shows("veterinarian: _") })
	h.write("Dr. R. Sommer")
	h.moveTo("down", ">", "injection of")
	h.write("Vaccine T")
	h.press("enter", "2", "enter")
	h.write("1 dose")
	h.moveTo("down", ">", "blood draw")
	h.press("space", "ctrl+s")
	h.seeLine(`done +decision +go ahead, Dr\. R\. Sommer`)
}

// order fills in the order of the vaccine and answers its check list.
func (h *hand) order() {
	h.see("Decided: injection of Vaccine T, IM, 1 dose")
	h.write("LT-4471")
	h.press("enter")
	h.write("02/27")
	h.press("enter")
	h.see("active ingr.: _")
	h.moveTo("down", ">", "volume")
	h.write("1")
	h.press("enter", "space", "ctrl+s")
	h.see("Right horse")
	h.press("m", "p", "d", "n")
	h.see("Who checked it?")
	h.write("Eva Lind")
	h.press("enter", "r", "t", "e", "v", "k", "f", "b")
	h.see("[enter: every point is answered; save the list]")
	h.press("enter")
	h.see("(proposed)")
}

// needle puts the needle in at the proposed place.
func (h *hand) needle() {
	h.press("enter")
	h.see("[i: the needle is in]")
	h.press("i")
	h.see("Needle in: ")
}

// TestAWholeVisit goes from the exam to the hand-off page after an injection
// that began again elsewhere, a draw of three tubes and a watch, with keys alone.
func TestAWholeVisit(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.short()
	h.press("p")
	h.seeLine(`locked injection`)
	h.seeLine(`locked blood draw`)
	h.after("locked injection")
	h.see("The veterinarian has not decided yet")
	h.handOff()
	h.seeLine(`done +hand-off`)
	h.decide()

	h.after("give Vaccine T")
	h.order()
	h.see("neck triangle, left (proposed)")
	h.needle()
	h.press("b") // blood
	h.see("A new needle, another site")
	h.see("neck triangle, right (proposed)")
	h.needle()
	h.press("ctrl+d") // every sign of danger is one key away
	h.see("Into the artery")
	h.see("Hot, hard or swollen vein")
	h.press("esc")
	h.see("Needle in: neck triangle, right")
	h.press("c")
	h.see("[g] given: 1 mL, as ordered")
	h.press("g")
	h.see("Saved: given")
	h.seeLine(`^observe: Bramble (20:00|19:\d\d)`)
	h.press("2", "enter")

	h.after("draw blood")
	h.seeLine(`^observe: Bramble 19:\d\d`) // on every screen
	h.see("blood count, serum chemistry")
	h.write("blood count")
	h.press("enter", "5", "space", "3", "space", "2", "space")
	h.see("order of draw: citrate, serum, EDTA")
	h.press("ctrl+s")
	h.see("Right horse")
	h.press("m", "u", "t", "v", "b", "enter")
	h.see("jugular, upper third, left (proposed)")
	h.press("enter")
	h.see("[i: the needle is in]")
	h.press("i")
	for i, kind := range []string{"citrate", "serum", "EDTA"} {
		letter := string("abc"[i])
		h.see(fmt.Sprintf("[%s] %s is filled", letter, kind))
		h.press(letter)
	}
	h.see("3 tubes, 15.7 mL in them")
	h.press("d")
	h.see("Saved: drawn, 15.7 mL")
	h.press("1", "enter")

	h.see("After the exam · ")
	h.press("ctrl+w")
	h.see("Look for")
	h.press("x")
	h.see("The observation stops early. Who checks the")
	h.press("w")
	h.see("why: _")
	h.write("the owner watches and was told what to look for")
	h.press("enter", "enter")
	h.see("Saved: stopped early")
	h.unsee("observe: Bramble")
	h.press("enter")

	h.after("due")
	h.see("tetanus")
	h.press("esc")
	h.after("hand-off")
	h.see("WHY I CALL")
	h.leave()

	v := lastVisit(t, data, "Bramble")
	require.Len(t, v.Injections, 1)
	i := v.Injections[0]
	assert.Equal(t, exam.InjectionGiven, i.State)
	require.Len(t, i.Attempts, 2)
	assert.Equal(t, exam.InjectionBlood, i.Attempts[0].Seen)
	assert.Equal(t, exam.NeedlePlace{Site: "neck triangle", Side: exam.Right}, i.Attempts[1].Place)
	assert.Equal(t, []string{"tetanus"}, i.Order.Against)
	require.Len(t, v.Draws, 1)
	assert.Equal(t, exam.DrawDone, v.Draws[0].State)
	require.Len(t, v.Draws[0].Filled, 3)
	assert.InDelta(t, 15.7, v.Draws[0].DrawnML(), 1e-9)
	require.Len(t, v.Watches, 1)
	assert.Equal(t, exam.WatchLeftEarly, v.Watches[0].State)
	sound(t, data)
}

// opened begins the short exam and has the veterinarian decide on a dose.
func opened(t *testing.T, data, cover string) (id string) {
	t.Helper()
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.short()
	h.leave()
	id = string(lastVisit(t, data, "Bramble").ID)
	_, errOut, code := command(t, data, "decide", id, "--vet", "Dr. R. Sommer", "--how", "here", "--decision", "go ahead",
		"--words", "Give it.", "--covers", cover, "--by", "Ann Bell")
	require.Zero(t, code, errOut)
	return id
}

// fill fills in the lot, the expiry and the volume of an order.
func (h *hand) fill() {
	h.t.Helper()
	h.see("Decided: injection of")
	h.write("LT-4471")
	h.press("enter")
	h.write("02/27")
	h.press("enter")
	h.see("active ingr.: _")
	h.moveTo("down", ">", "volume")
	h.write("1")
	h.press("ctrl+s")
	h.see("Right horse")
}

// hold holds a key for a second, and then presses it twice more as a hand does.
func (h *hand) hold(key string) {
	h.t.Helper()
	_, err := h.term.Hold(key, 300*time.Millisecond, 33*time.Millisecond, time.Second)
	require.NoError(h.t, err)
	h.press(key, key)
}

// A check is an act: a held enter, or the letter of one point held, ticks nothing
// that it does not belong to, and saves nothing.
func TestAHeldKeyGoesThroughNoCheckList(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "inject", opened(t, data, "injection:Vaccine T:IM:1 dose"))
	h.fill()
	h.seeLine(`^> Right horse`)
	h.hold("enter")
	h.see("Press c, m or x.")
	h.seeLine(`^> Right horse`)
	h.hold("space")
	h.hold("1")
	h.seeLine(`^> Right horse`)
	h.hold("c")
	h.seeLine(`^> Right product`)
	for _, letter := range []string{"p", "d", "o", "r", "t", "e", "v", "k", "f"} {
		h.hold(letter) // each held as long as a glove does
	}
	h.seeLine(`^> Handler on your side`)
	h.hold("enter")
	h.seeLine(`^> Handler on your side`)
	h.hold("b")
	h.see("[enter: every point is answered; save the list]")
	h.leave()
	assert.Empty(t, lastVisit(t, data, "Bramble").Injections, "only enter on the last line saves it")
	sound(t, data)
}

// From "needle in" to "given" in a vein it was nine presses, four of them a digit
// and an enter; it is five, one a question. In a muscle it was three, and is two.
func TestOneKeyAQuestionWithTheNeedleIn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cover string
		asks  []string
		keys  []string
	}{
		{"injection:Product B:IV:1 mL", []string{"Upper third of the neck?", "Needle seated to the hub", "What does the blood do", "Does blood come back", "[g] given"}, []string{"u", "i", "d", "b", "g"}},
		{"injection:Product B:IM:1 mL", []string{"What is seen?", "[g] given"}, []string{"c", "g"}},
	} {
		data := watched(t, 20)
		h := sit(t, data, "inject", opened(t, data, c.cover))
		h.fill()
		h.press("m", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b", "enter")
		h.see("(proposed)")
		h.needle()
		for i, key := range c.keys {
			h.see(c.asks[i])
			h.press("enter", "enter") // enter alone answers nothing
			h.see("Press one of")
			h.hold(key)
		}
		h.see("Saved: given")
		h.leave()
		i := lastVisit(t, data, "Bramble").Injections[0]
		assert.Equal(t, exam.InjectionGiven, i.State)
		assert.InDelta(t, 1, i.GivenML, 0)
		require.Len(t, i.Attempts, 1)
	}
}

// The screen of what no decision covers says why, and its command ends with code 6
// where nothing was entered.
func TestLockedInATerminal(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.short()
	h.leave()
	id := string(lastVisit(t, data, "Bramble").ID)
	for _, command := range []string{"inject", "draw"} {
		h := sit(t, data, command, id)
		h.see("has not decided yet")
		h.press("ctrl+c")
		code, err := h.term.Wait(patience)
		require.NoError(t, err)
		assert.Equal(t, exitRefused, code, command)
	}
}

// TestKilledBetweenNeedleInAndGiven ends the program as a power cut does, with the
// needle in and with the syringe drawn back: the attempt is there, nothing else is,
// and the next start asks what happened.
func TestKilledBetweenNeedleInAndGiven(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "exam", "Bramble", "--routine", "tpr-recheck")
	h.short()
	h.press("p")
	h.decide()
	h.after("give Vaccine T")
	h.order()
	h.needle()
	require.NoError(t, h.term.Kill())

	v := lastVisit(t, data, "Bramble")
	require.Len(t, v.Injections, 1)
	a, in := v.Injections[0].NeedleIn()
	require.True(t, in, "the attempt is not lost")
	assert.Equal(t, "neck triangle", a.Place.Site)
	assert.Empty(t, a.Seen, "and nothing is made up")
	assert.Empty(t, v.Watches)
	sound(t, data)

	h = sit(t, data, "inject", string(v.ID))
	h.see("what happened?")
	h.press("enter")
	h.see("Press one of")
	h.press("i") // the needle is in now
	h.see("What is seen?")
	h.press("c")
	h.see("[g] given: 1 mL, as ordered")
	require.NoError(t, h.term.Kill())
	v = lastVisit(t, data, "Bramble")
	a, in = v.Injections[0].NeedleIn()
	require.True(t, in)
	assert.Equal(t, exam.InjectionClear, a.Seen)

	h = sit(t, data, "inject", string(v.ID))
	h.see("what happened?")
	h.press("g")
	h.see("given, mL")
	h.write("0.8")
	h.press("enter", "enter")
	h.see("Saved: given")
	h.seeLine(`^observe: Bramble (20:00|19:\d\d)`)
	require.NoError(t, h.term.Kill())

	i := lastVisit(t, data, "Bramble").Injections[0]
	assert.Equal(t, exam.InjectionGiven, i.State)
	assert.InDelta(t, 0.8, i.GivenML, 0)
	assert.True(t, i.Afterwards)
	sound(t, data)
	h = sit(t, data) // the clock is on the home screen of the next run
	h.seeLine(`^observe: Bramble (20:00|19:\d\d)`)
	h.leave()
}
