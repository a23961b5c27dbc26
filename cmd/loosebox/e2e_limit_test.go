//go:build unix

package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// twenty fills in an order of 20 mL in a syringe of that size.
func (h *hand) twenty() {
	h.t.Helper()
	h.see("Decided: injection of")
	h.write("LT-4471")
	h.press("enter")
	h.write("02/27")
	h.press("enter")
	h.see("active ingr.: _")
	h.moveTo("down", ">", "syringe")
	h.write("20")
	h.press("enter")
	h.seeLine(`^> +volume in mL`)
	h.write("20")
	h.press("ctrl+s")
}

// The order is a limit: 20 mL where 10 mL was decided is refused until the changed
// order is saved, also after a power cut in the middle of it; what went in otherwise
// is told on every page, and the order lets no second injection in.
func TestTheOrderIsALimit(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	id := opened(t, data, "injection:Product B:IM:10 mL")
	h := sit(t, data, "inject", id)
	h.twenty()
	h.see("REFUSED")
	h.see("decided 10 mL, not 20 mL.")
	h.hold("enter")
	h.see("Press one of: v, b.")
	h.press("v")
	h.see("new words: _")
	h.write("Half of wh")
	h.see("Half of wh")
	require.NoError(t, h.term.Kill())
	v := lastVisit(t, data, "Bramble")
	assert.Len(t, v.Decisions, 1, "half a changed order is none")
	assert.Empty(t, v.Injections)

	h = sit(t, data, "inject", id)
	h.twenty()
	h.see("REFUSED")
	h.press("v")
	h.see("new words: _")
	h.write("She is big, make it 20 mL.")
	h.press("enter")
	h.seeLine(`^> +veterinarian: Dr\. R\. Sommer`)
	h.press("ctrl+s")
	h.see("Right horse")
	h.press("m", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b", "enter")
	h.see("(proposed)")
	h.needle()
	h.press("c")
	h.see("[g] given: 20 mL, as ordered")
	h.press("a")
	h.see("given, mL")
	h.write("14")
	h.press("ctrl+s")
	h.see("Saved: given")
	h.see("14 mL was given, 20 mL was ordered: 6 mL less.")
	h.leave()

	v = lastVisit(t, data, "Bramble")
	require.Len(t, v.Decisions, 2)
	assert.Equal(t, "She is big, make it 20 mL.", v.Decisions[1].Words)
	require.Len(t, v.Injections, 1)
	assert.InDelta(t, 20, v.Injections[0].Order.VolumeML, 0)
	assert.InDelta(t, 14, v.Injections[0].GivenML, 0)
	for _, page := range []string{"show", "handoff"} {
		out, errOut, code := command(t, data, page, id)
		require.Zero(t, code, errOut)
		said := strings.Join(strings.Fields(out), " ")
		assert.Contains(t, said, "14 mL was given, 20 mL was ordered: 6 mL less", page)
		assert.Contains(t, strings.ToLower(said), "tell the vet", page)
	}
	h = sit(t, data, "exam", "Bramble")
	h.seeLine(` 8 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
	h.press("tab") // away from the line of text
	h.see("r review")
	h.press("r")
	h.see("not closed")
	h.see("14 mL was given, 20 mL was ordered")
	h.leave()
	h = sit(t, data, "inject", id)
	h.see("LOCKED")
	h.leaveWith(exitRefused)
	sound(t, data)
}

// A syringe of the size that was typed, or none.
func TestASyringeOfTheSizeThatWasTyped(t *testing.T) {
	t.Parallel()
	data := watched(t, 20)
	h := sit(t, data, "inject", opened(t, data, "injection:Product B:IM:10 mL"))
	h.see("Decided: injection of")
	h.write("LT-4471")
	h.press("enter")
	h.write("02/27")
	h.press("enter")
	h.moveTo("down", ">", "syringe")
	h.write("13")
	h.press("ctrl+s")
	h.see("there is no size of 13: 1 mL")
	h.unsee("Right horse")
	h.write("12")
	h.press("enter")
	h.seeLine(`volume in mL`)
	h.press("ctrl+s")
	h.see("Right horse")
	h.press("m", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b", "enter")
	h.see("(proposed)")
	h.leave()
	o := lastVisit(t, data, "Bramble").Injections[0].Order
	assert.InDelta(t, 12, o.SyringeML, 0)
	assert.InDelta(t, 10, o.VolumeML, 0, "the volume is the order's")
	assert.Equal(t, exam.RouteIM, o.Route)
}

// leaveWith ends the program by its key, with a code.
func (h *hand) leaveWith(want int) {
	h.t.Helper()
	h.press("ctrl+c")
	code, err := h.term.Wait(patience)
	require.NoError(h.t, err)
	assert.Equal(h.t, want, code)
}
