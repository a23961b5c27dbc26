package rehearse_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

func small() layout.Size { return layout.Size{W: 60, H: 20} }
func usual() layout.Size { return layout.Size{W: 80, H: 24} }

func TestARehearsalPlayedWellHasNoFaults(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 7, "tpr-recheck", rehearse.Modes{})
	s.play(slips{})
	assert.Contains(t, s.view(), nav.RehearsalSign)
	assert.Contains(t, s.view(), "Review")
	for range 40 {
		assert.NotContains(t, s.view(), "rehearsal: ", "its own notes are not the trainee's")
		s.tap("down")
	}
	s.close()
	m := s.mark()
	assert.Empty(t, faults(m), rehearse.Text(m, 80))
	assert.Len(t, m.Counts, 2)
	for _, c := range m.Counts {
		assert.Contains(t, c.Basis, "between your first and last tap", "the count says when it began")
	}
	require.GreaterOrEqual(t, len(m.Safety), 2, "%+v", m.Safety)
	assert.Contains(t, s.view(), nav.RehearsalSign, "the marks follow")
	list, err := s.deps.Store.Recent(10)
	require.NoError(t, err)
	assert.Empty(t, list, "nothing among the visits of real horses")
}

func TestARehearsalPlayedBadlyHasJustThoseFaults(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 7, "before-vaccination", rehearse.Modes{})
	s.play(slips{
		tapFactor: 1.05, unsafe: "tail", skip: "breath.effort", wrong: map[exam.StepID]string{"gum.colour": "pale"},
	})
	for range 3 { // the step that was left is asked again at the end; it stays left
		s.press("r")
	}
	s.press("f", "3", "enter")
	assert.ElementsMatch(t, []string{"safety: temp.rectal", "count: heart.rate", "finding: gum.colour", "step missed: breath.effort"}, faults(s.mark()), rehearse.Text(s.mark(), 80))
}

// Every built-in case, with the routine it is made for, through the real screens.
func TestEveryCaseCanBePlayedWithoutAFault(t *testing.T) {
	cases, problems := newStage(t, usual()).deps.RehearsalCases()
	require.Empty(t, problems)
	for i, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			size := usual()
			if i%2 == 1 {
				size = small()
			}
			s := newStage(t, size)
			s.begin(c.Name, uint64(20+i), "", rehearse.Modes{})
			s.play(slips{})
			s.handOff()
			s.close()
			assert.Empty(t, faults(s.mark()), rehearse.Text(s.mark(), 100))
		})
	}
}

// While one thinks what comes next in a blind and timed rehearsal the clock runs, and what begins with the letters that
// are typed stands first.
func TestTheClockRunsWhileOneThinks(t *testing.T) {
	s := newStage(t, usual())
	s.begin("clover", 5, "full-exam", rehearse.Modes{Blind: true, Timed: true})
	require.True(t, s.reads("What do you examine next?"), s.view())
	s.pass(200)
	before := s.view()
	s.pass(5)
	assert.NotEqual(t, before, s.view(), "five seconds later")
	for _, r := range "pulse" { // the digital pulses hold it too, and their name comes before
		s.tap(string(r))
	}
	assert.Regexp(t, `(?m)^> Pulse under the jaw +$`, s.view())
	assert.Contains(t, s.view(), "  Digital pulse")
}
