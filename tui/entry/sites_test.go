package entry

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
)

func gut() exam.Step {
	return exam.Step{
		ID: "gut.sounds", Name: "Gut sounds", Kind: exam.KindPick, OneForAll: true,
		Sites: []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower},
		Choices: []exam.Choice{
			{Key: "none", Words: "none", Hint: "after a full minute"},
			{Key: "less", Words: "less than usual"},
			{Key: "usual", Words: "usual", Hint: "one to three a minute"},
			{Key: "more", Words: "more than usual"},
		},
	}
}

func newGut(c *clock, before map[exam.Site]exam.Value) *Sites {
	return NewSites(gut(), gut().Sites, options(c), before)
}

func TestSitesOneAfterTheOther(t *testing.T) {
	s := newGut(&clock{noon()}, nil)
	for i, want := range gut().Sites {
		require.Equal(t, want, s.Site())
		require.Equal(t, Accepted, send(s, "3", "enter"))
		v := value(t, s)
		assert.Equal(t, []string{"usual"}, v.Words)
		s.Set(s.Site(), v)
		assert.Equal(t, i < 3, s.Next(), "the answer for all is offered, not demanded")
	}
	assert.Empty(t, s.Open())
	assert.Contains(t, screen(s, 52, 14), "✓ left upper   usual")
}

func TestSitesKeepWhatWasBegunAndWrapRound(t *testing.T) {
	s := newGut(&clock{noon()}, nil)
	send(s, "2", "right")
	assert.Equal(t, exam.LeftLower, s.Site())
	_, err := s.Value()
	require.Error(t, err, "the other site has its own field")
	send(s, "left")
	assert.Equal(t, []string{"less"}, value(t, s).Words)
	send(s, "left")
	assert.Equal(t, exam.Overall, s.Site())
	send(s, "3", "enter")
	s.Set(exam.Overall, value(t, s))
	assert.Empty(t, s.Open(), "one answer for all leaves no site open")
	assert.False(t, s.Next())
}

func TestSitesResumeAtTheFirstOpenOne(t *testing.T) {
	usual := exam.Value{Kind: exam.KindPick, Words: []string{"usual"}}
	s := newGut(&clock{noon()}, map[exam.Site]exam.Value{exam.LeftUpper: usual, exam.RightLower: usual})
	assert.Equal(t, exam.LeftLower, s.Site())
	s.Close(exam.LeftLower, "not done: \x1b[2Junsafe")
	require.True(t, s.Next())
	assert.Equal(t, exam.RightUpper, s.Site())
	assert.Contains(t, screen(s, 52, 14), "x left lower   not done: unsafe")
	require.True(t, s.Go(exam.RightLower))
	assert.Equal(t, []string{"usual"}, value(t, s).Words, "a correction starts from what stands")
	assert.False(t, s.Go(exam.LeftFore))
	s = newGut(&clock{noon()}, map[exam.Site]exam.Value{exam.Overall: usual})
	assert.Equal(t, exam.Overall, s.Site())
}

func TestSitesOfAStepWithoutSides(t *testing.T) {
	for _, sites := range [][]exam.Site{nil, {exam.NoSite}} {
		s := NewSites(gums(), sites, options(&clock{noon()}), nil)
		assert.Equal(t, exam.NoSite, s.Site())
		assert.Equal(t, Ignored, send(s, "left"))
		require.Equal(t, Accepted, send(s, "2", "enter"))
		s.Set(exam.NoSite, value(t, s))
		assert.False(t, s.Next())
	}
}

func TestSitesDoNotMoveWhileAFieldIsBusy(t *testing.T) {
	step := temperature()
	step.Sites = []exam.Site{exam.Left, exam.Right}
	c := &clock{noon()}
	s := NewSites(step, step.Sites, options(c), nil)
	send(s, "t")
	require.True(t, s.Busy())
	assert.Equal(t, Taken, send(s, "right"))
	assert.Equal(t, exam.Left, s.Site())
	f := s.fields[exam.Left].(*number)
	c.at = noon().Add(5 * time.Second)
	require.NotNil(t, s.Update(tickMsg{of: &f.timer, run: f.timer.run}))
	assert.Contains(t, screen(s, 34, 12), "timer 5 s")
}

func TestSitesShareLinesWhereTheRoomIsLow(t *testing.T) {
	s := newGut(&clock{noon()}, nil)
	lines := s.View(layout.Size{W: 34, H: 8})
	require.LessOrEqual(t, len(lines), 8)
	assert.Contains(t, screen(s, 34, 8), ">- left upper   - left lower")
	assert.Contains(t, screen(s, 34, 8), "4 more than usual", "the field keeps its room")
}

func TestSitesGolden(t *testing.T) {
	s := newGut(&clock{noon()}, nil)
	s.Set(exam.LeftUpper, exam.Value{Kind: exam.KindPick, Words: []string{"less"}})
	s.Next()
	send(s, "3")
	golden(t, "sites", s)
}
