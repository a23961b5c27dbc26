package main

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/screentest"
)

// inOneGo are the steps that one key answered for the rest of an area.
func (p *counter) inOneGo() []exam.StepID {
	var out []exam.StepID
	for _, f := range p.visit().Findings {
		if f.Value.InOneGo {
			out = append(out, f.Step)
		}
	}
	return out
}

// fast sends keys with so much time between them, as a held key, a reader or a paste without brackets does.
func (p *counter) fast(every time.Duration, names ...string) {
	for _, name := range names {
		p.send(screentest.Key(name))
		p.pass(every)
	}
}

// TestTheRestOfAnAreaIsOneDeliberateKey: held down on a quick or a slow keyboard, read by a scanner, pasted, or typed ahead,
// the key answers one area at most, and never the next one.
func TestTheRestOfAnAreaIsOneDeliberateKey(t *testing.T) {
	afar := []exam.StepID{"demeanour", "posture", "breath.effort", "pain.signs", "gait.look", "urine"}
	met := func(t *testing.T) *counter {
		p := sitDown(t, adultMare())
		p.begin("")
		p.press("1", "enter")
		return p
	}
	for _, every := range []time.Duration{25 * time.Millisecond, 33 * time.Millisecond, 92 * time.Millisecond, 120 * time.Millisecond, 500 * time.Millisecond} {
		t.Run("held, "+every.String(), func(t *testing.T) {
			p := met(t)
			p.fast(500*time.Millisecond, "z")
			p.fast(every, slices.Repeat([]string{"z"}, 60)...)
			p.pass(time.Second)
			assert.Equal(t, afar, p.inOneGo())
		})
	}
	t.Run("held, where every step of two areas is looked at", func(t *testing.T) {
		p := met(t)
		p.press("z")
		p.tap(14, 4*time.Second)
		p.press("enter", "0", "0", "0", "0", "0", "0") // to the tail: manure
		p.fast(400*time.Millisecond, "z")
		p.fast(33*time.Millisecond, slices.Repeat([]string{"z"}, 60)...)
		p.pass(time.Second)
		assert.Equal(t, append(slices.Clone(afar), "manure"), p.inOneGo(), "the temperature is asked now: %s", p.view())
	})
	for name, text := range map[string]string{"a chip": "982000123456789z", "letters of a reader": "zAz9zBz1z", "a long line of it": "zzzzzzzzzzzzzzzz"} {
		t.Run("read by a scanner: "+name, func(t *testing.T) {
			p := met(t)
			for _, r := range text {
				p.fast(3*time.Millisecond, string(r))
			}
			p.fast(3*time.Millisecond, "enter")
			p.pass(2 * time.Second)
			got := p.inOneGo()
			if name == "a long line of it" { // as a held key
				assert.Contains(t, [][]exam.StepID{nil, afar}, got)
				return
			}
			assert.Empty(t, got)
		})
	}
	t.Run("pasted", func(t *testing.T) {
		p := met(t)
		for _, text := range []string{"z", "zz", "z\nz\n", "uzuz"} {
			p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
			p.pass(time.Second)
		}
		assert.Empty(t, p.inOneGo())
	})
	t.Run("each answer is one line of the record", func(t *testing.T) {
		p := met(t)
		before := p.visit().Entries
		p.press("z")
		v := p.visit()
		assert.Equal(t, before+len(afar), v.Entries)
		lines, err := p.store.Entries(v.ID)
		require.NoError(t, err)
		seen := map[exam.StepID]int{}
		for _, e := range lines {
			if e.Value != nil && e.Value.InOneGo {
				seen[e.Step]++
				assert.Equal(t, exam.EntryFinding, e.Kind)
			}
		}
		assert.Len(t, seen, len(afar))
	})
}
