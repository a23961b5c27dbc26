//go:build unix

package main

import (
	"cmp"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// state is one screen of a procedure: how it is reached from the one before, and what stands on it.
type state struct {
	name  string
	to    func(h *hand)
	shows string
}

// stage are the states between two lines of the record: what the record holds, and what the next start says after a kill in
// any of them.
type stage struct {
	holds   string // the procedure as the record has it
	entries int    // how many lines it has then
	home    string // of the home screen
	asks    string // of the command
	// onward answers what the next start asks, up to the first state of the stage, or where at is not empty, to what it says.
	onward func(h *hand)
	at     string
	again  string // the command that goes on, where it is not the procedure's
	states []state
}

func press(list ...string) func(*hand) { return func(h *hand) { h.press(list...) } }

// inVein are the stages of an injection into a vein, from the empty order form to the observation that is over.
func inVein() []stage {
	const exam, what = "go on with Bramble's exam", "what happened?"
	return []stage{
		{holds: "", home: exam, asks: "lot: _", onward: func(*hand) {}, states: []state{
			{"the order", func(*hand) {}, "lot: _"},
			{"the order, half of it", func(h *hand) { h.write("LT-4471") }, "lot: LT-4471_"},
			{"the check list", func(h *hand) {
				h.press("enter")
				h.write("02/27")
				h.press("enter")
				h.see("active ingr.: _")
				h.moveTo("down", ">", "volume")
				h.write("1")
				h.press("ctrl+s")
			}, "Right horse"},
			{"the check list, half of it", press("m", "p", "d", "o", "r"), "> Right time"},
			{"the check list, all of it", press("t", "e", "v", "k", "f", "b"), "[enter: every point is answered; save the list]"},
		}},
		{holds: "order and check list", entries: 1, home: exam, asks: "go on with injection 1", onward: func(h *hand) {
			h.press("enter")
			h.see("[a] looked again")
			h.press("a")
		}, states: []state{
			{"the site", press("enter"), "(proposed)"},
			{"the needle", press("enter"), "[i: the needle is in]"},
		}},
		{holds: "needle inserted", entries: 2, home: "needle inserted", asks: what, onward: press("i"), states: []state{
			{"the upper third", press("i"), "Upper third of the neck?"},
			{"stopped, why", press("x"), "Stopped. Why?"},
			{"the upper third again", press("esc"), "Upper third of the neck?"},
			{"seated", press("u"), "Needle seated to the hub"},
			{"the blood", press("i"), "What does the blood do"},
		}},
		{holds: "blood drips, no pulse", entries: 3, home: "needle inserted", asks: what, onward: press("i"), states: []state{
			{"blood comes back", press("d"), "Does blood come back"},
			{"to give", press("b"), "[g] given: 1 mL"},
			{"the signs of danger", press("ctrl+d"), "Into the artery"},
			{"to give again", press("esc"), "[g] given: 1 mL"},
			{"another amount", press("a"), "given, mL: _"},
			{"another amount, typed", func(h *hand) { h.write("1") }, "given, mL: 1_"},
		}},
		{holds: "given", entries: 4, home: "observation of Bramble not started", asks: "Another dose needs a new", again: "observe", onward: func(*hand) {}, at: "minutes: _", states: []state{
			{"given", press("ctrl+s"), "Saved: given"},
		}},
		{holds: "given", entries: 4, home: "observation of Bramble not started", asks: "Another dose needs a new", again: "observe", onward: func(*hand) {}, states: []state{
			{"the observation", func(*hand) {}, "minutes: _"},
			{"declined, why", press("x"), "The horse is not observed after the injection. Why?"},
		}},
		{holds: "given, observation declined", entries: 5, home: exam, asks: "Another dose needs a new", states: []state{
			{"declined", press("o"), "Saved: declined"},
		}},
	}
}

// threeTubes are the stages of a blood draw of three tubes.
func threeTubes() []stage {
	const exam, in, what = "go on with Bramble's exam", "needle inserted", "what happened?"
	list := []stage{
		{holds: "", home: exam, asks: "for: _", onward: func(*hand) {}, states: []state{
			{"the order", func(*hand) {}, "for: _"},
			{"the tubes", func(h *hand) {
				h.write("blood count")
				h.press("enter", "5", "space", "3", "space", "2", "space")
			}, "order of draw: citrate, serum, EDTA"},
			{"the check list", press("ctrl+s"), "Right horse"},
			{"the check list, all of it", press("m", "u", "t", "v", "b"), "[enter: every point is answered; save the list]"},
		}},
		{holds: "order", entries: 1, home: exam, asks: "Look again", onward: press("a"), states: []state{
			{"the vein", press("enter"), "(proposed)"},
			{"the needle", press("enter"), "[i: the needle is in]"},
		}},
		{holds: "needle inserted", entries: 2, home: in, asks: what, onward: press("i"), states: []state{
			{"no tube", press("i"), "[a] citrate is filled"},
		}},
	}
	next := []string{"[b] serum is filled", "[c] EDTA is filled", "3 tubes, 15.7 mL in them"}
	for n, key := range []string{"a", "b", "c"} {
		list = append(list, stage{
			holds: fmt.Sprintf("tube filled, %d filled", n+1), entries: n + 3, home: in, asks: what, onward: press("i"),
			states: []state{{fmt.Sprintf("%d tubes", n+1), press(key), next[n]}},
		})
	}
	return append(list, stage{holds: "drawn, 3 filled", entries: 6, home: exam, asks: "for: _", states: []state{
		{"drawn", press("d"), "Saved: drawn, 15.7 mL"},
	}})
}

// procedureHeld is the injection or the draw of a visit in words, and how many lines the visit has.
func procedureHeld(t *testing.T, data string) (holds string, entries int) {
	t.Helper()
	v := lastVisit(t, data, "Bramble")
	for _, i := range v.Injections {
		holds += i.State.String()
		assert.LessOrEqual(t, len(i.Attempts), 1, "a needle that was put in once")
		assert.False(t, i.Afterwards, "nobody said what had happened before")
		for _, w := range v.Watches {
			holds += ", observation " + w.State.String()
		}
	}
	for _, d := range v.Draws {
		if holds += d.State.String(); len(d.Filled) > 0 {
			holds += fmt.Sprintf(", %d filled", len(d.Filled))
		}
		assert.LessOrEqual(t, len(d.Sticks), 1)
	}
	return holds, v.Entries
}

// TestKilledAtEveryState ends the program as a power cut does at every state of an injection into a vein and of a blood draw of
// three tubes, starts it again and goes on from there. The record holds what was accepted and nothing else, is whole, the next
// start asks what happened to a needle that was in, and what was given once cannot be given again.
func TestKilledAtEveryState(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		command, cover string
		stages         []stage
	}{
		{"inject", "injection:Product B:IV:1 mL", inVein()},
		{"draw", "draw", threeTubes()},
	} {
		t.Run(c.command, func(t *testing.T) {
			t.Parallel()
			data := yard(t)
			id := opened(t, data, c.cover)
			_, before := procedureHeld(t, data)
			h := sit(t, data, c.command, id)
			for _, s := range c.stages {
				for i, at := range s.states {
					at.to(h)
					h.see(at.shows)
					require.NoError(t, h.term.Kill())
					holds, entries := procedureHeld(t, data)
					require.Equal(t, s.holds, holds, at.name)
					require.Equal(t, before+s.entries, entries, at.name)

					if i == len(s.states)-1 {
						sound(t, data)
						h = sit(t, data)
						h.see(s.home)
						require.NoError(t, h.term.Kill())
					}
					h = sit(t, data, c.command, id)
					h.see(s.asks)
					if s.onward == nil {
						continue // the end
					}
					if s.again != "" {
						require.NoError(t, h.term.Kill())
						h = sit(t, data, s.again, id)
					}
					s.goOn(h, i)
				}
			}
		})
	}
}

// goOn goes to a state of the stage once more, after the next start.
func (s stage) goOn(h *hand, i int) {
	s.onward(h)
	h.see(cmp.Or(s.at, s.states[0].shows))
	for _, at := range s.states[1 : i+1] {
		at.to(h)
		h.see(at.shows)
	}
}
