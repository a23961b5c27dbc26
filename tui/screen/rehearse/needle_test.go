package rehearse_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// line types into the line under the cursor and goes to the next.
func (s *stage) line(text string) { s.write(text) }

// toNeedle goes through the order and the check list of a decided injection up to
// the needle in the muscle.
func (s *stage) toNeedle() {
	s.t.Helper()
	screentest.Decide(s.t, s.deps.Rehearsals, s.visit, screentest.Tetanus())
	s.send(nav.GoMsg{To: nav.Address{Screen: nav.Injection, Visit: s.visit}})
	for _, text := range []string{"LT-4471", "02/27", "invented toxoid", "", "Maker H", "", "500kg", "1"} {
		s.line(text)
	}
	s.press("ctrl+s")
	require.True(s.t, s.reads("Right horse"), s.view())
	s.press("c", "p", "d", "o", "r", "t", "e", "v", "k", "f", "b", "enter")
	s.press("enter", "i")
}

// Whoever presses the plunger without drawing back is told at once, and it is marked.
func TestTheNeedleOfARehearsalAsksForTheAspirate(t *testing.T) {
	for _, c := range []struct {
		option string
		fault  bool
	}{{"b", true}, {"a", false}} {
		s := newStage(t, usual())
		s.begin("clover", 7, "tpr-recheck", rehearse.Modes{})
		s.toNeedle()
		m := s.horse.AtInjection()
		require.True(t, s.reads(m.Happens), s.view())
		s.tap("esc")
		require.True(t, s.reads("A needle is in"), s.view())
		i := slices.IndexFunc(m.Options, func(o rehearse.Option) bool { return o.Key == c.option })
		s.press(fmt.Sprint(i + 1))
		assert.Equal(t, c.fault, s.reads("Not safe. "+m.Why), s.view())
		if c.fault {
			s.press("enter")
		}
		assert.True(t, s.reads("Draw the syringe back. What is seen?"), s.view())
		assert.Contains(t, s.view(), nav.RehearsalSign)
		marks := s.mark()
		at := slices.IndexFunc(marks.Safety, func(x rehearse.SafetyMark) bool { return x.Moment == m.ID })
		require.GreaterOrEqual(t, at, 0)
		assert.Equal(t, !c.fault, marks.Safety[at].Safe)
	}
}
