//go:build unix

package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// yard is a data folder that holds the demo's record.
func yard(t *testing.T) string {
	t.Helper()
	data := t.TempDir() + "/yard"
	made, err := demoYard()
	require.NoError(t, err)
	require.NoError(t, copyFolder(made, data))
	return data
}

// act is one answer of the exam of the kill test and what must be in the record
// once it was accepted.
type act struct {
	step string
	do   func(h *hand)
	kept func(t *testing.T, v shown)
}

func acts() []act {
	usual := func(step, id string) act {
		return act{step, func(h *hand) { h.press("u") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.True(t, v.at(t, id, "").Value.Usual)
		}}
	}
	return []act{
		{"Approach and handler", func(h *hand) { h.press("2", "enter") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.Equal(t, []string{"tied"}, v.at(t, "approach", "").Value.Words)
		}},
		usual("Demeanor", "demeanour"),
		{"Posture", func(h *hand) { h.press("x", "1", "enter") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.Equal(t, "horse refused", v.at(t, "posture", "").NotDone)
		}},
		{"Breathing rate", func(h *hand) { h.press("t", "4", "enter", "1", "1", "enter") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.InDelta(t, 11, v.at(t, "breath.rate", "").Value.Number.Value, 0)
		}},
		usual("Breathing effort, 0 to 4", "breath.effort"),
		{"Signs of pain", func(h *hand) { h.press("3", "space", "enter") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.Equal(t, []string{"severe"}, v.at(t, "pain.signs", "").Value.Words)
		}},
		{"Grimace total, 0 to 12", func(h *hand) { h.press("2", "0", "0", "0", "0", "0") }, func(t *testing.T, v shown) {
			t.Helper()
			assert.InDelta(t, 2, v.at(t, "pain.grimace", "").Value.Number.Value, 0)
		}},
	}
}

// TestKilledInTheMiddle ends the program as a power cut does, after so many
// accepted answers and with a further one begun but not accepted. What was seen
// as answered must be in the record, and the next start must offer to go on.
func TestKilledInTheMiddle(t *testing.T) {
	t.Parallel()
	data := yard(t)
	list := acts()
	before := len(visits(t, data, "Bramble"))

	h := sit(t, data, "exam", "Bramble")
	h.begin()
	h.seeLine(` 0 of \d+  [░█▏▎▍▌▋▊▉ ]+$`)
	done := 0
	for _, stop := range []int{1, 4, len(list)} {
		for ; done < stop; done++ {
			h.step(list[done].step)
			list[done].do(h)
			h.answered(done + 1)
		}
		if stop < len(list) {
			h.step(list[stop].step, "1") // begun, and not accepted
		}
		require.NoError(t, h.term.Kill())

		all := visits(t, data, "Bramble")
		require.Len(t, all, before+1)
		require.Len(t, all[0].Visit.Findings, done, "no accepted answer is lost, and none was made up")
		for _, a := range list[:done] {
			a.kept(t, all[0])
		}
		assert.Nil(t, all[0].Visit.ClosedAt)
		sound(t, data)

		h = sit(t, data) // the home screen offers to go on
		h.seeLine(fmt.Sprintf(`> .*go on with Bramble's exam, begun .*: %d of `, done))
		h.press("enter")
		h.answered(done)
		if stop < len(list) {
			h.step(list[stop].step)
		}
	}
	h.step("A few steps at walk", "u")
	h.answered(done + 1)
	h.leave()
}

// An exam begun at the command line is gone on with there as well.
func TestGoesOnWithTheOpenVisitOfAHorse(t *testing.T) {
	t.Parallel()
	data := yard(t)
	h := sit(t, data, "exam", "Wren")
	h.seeLine(` 7 of \d+  [░█▏▎▍▌▋▊▉ ]+$`)
	h.press("u")
	h.press("esc")
	h.see("go on with Wren's exam")
	h.leave()
}
