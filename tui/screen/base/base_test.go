package base_test

import (
	"context"
	"errors"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/progress"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

func press() keys.Press { return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyEnter}} }

// An answer comes back to the screen that asked, and to no other of its kind.
func TestWhatIsReadComesBackToTheScreenThatAsked(t *testing.T) {
	var mine, other base.Screen
	took := ""
	cmd := base.Read(&mine, func() (string, error) { return "a horse", nil }, func(v string) tea.Cmd {
		assert.False(t, mine.Loaded, "take sees whether it is the first time")
		took = v
		return nav.Back()
	})
	answer := cmd()
	assert.Nil(t, other.Update(answer))
	assert.Empty(t, took)
	next := mine.Update(answer)
	require.NotNil(t, next)
	assert.Equal(t, nav.BackMsg{}, next())
	assert.Equal(t, "a horse", took)
	assert.True(t, mine.Loaded)
	assert.False(t, other.Loaded)
}

func TestWhatCannotBeReadIsSaidAndNothingIsTaken(t *testing.T) {
	var s base.Screen
	cmd := base.Read(&s, func() (int, error) { return 1, base.Unread("this horse", assert.AnError) }, func(int) tea.Cmd {
		t.Error("nothing was read")
		return nil
	})
	fail, ok := s.Update(cmd())().(nav.FailMsg)
	require.True(t, ok)
	require.ErrorIs(t, fail.Err, assert.AnError)
	assert.Contains(t, fail.Err.Error(), "this horse cannot be read; nothing was changed: ")
	assert.False(t, s.Loaded)
	assert.NoError(t, base.Unread("this horse", nil))
}

// While a write is on its way no key counts, so that one press cannot write twice; after a refusal keys count again.
func TestNoKeyCountsWhileAWriteIsOnItsWay(t *testing.T) {
	pressed := 0
	s := base.Screen{Press: func(keys.Press) tea.Cmd { pressed++; return nil }}
	for _, err := range []error{nil, errors.New("the disk is full")} {
		before, written := pressed, 0
		cmd := base.Write(&s, func() (string, error) { return "stored", err }, func(string) tea.Cmd { written++; return nil })
		assert.True(t, s.Saving())
		s.Update(press())
		assert.Equal(t, before, pressed)
		next := s.Update(cmd())
		assert.False(t, s.Saving())
		assert.Equal(t, err == nil, written == 1)
		assert.Equal(t, err != nil, next != nil, "a refusal is shown")
		s.Update(press())
		assert.Equal(t, before+1, pressed)
	}
	assert.False(t, s.Loaded, "a write reads nothing")
}

func TestAScreenThatIsOnTopAgainReadsAgain(t *testing.T) {
	reads := 0
	s := base.Screen{Load: func() tea.Cmd { reads++; return nil }}
	s.Init()
	s.Update(nav.ShownMsg{})
	assert.Equal(t, 2, reads)
	var none base.Screen
	assert.Nil(t, none.Init())
}

// The settings that others hold are not changed by keeping a scatter that the store refuses.
func TestAScatterIsKeptForThePersonOfTheSettings(t *testing.T) {
	deps, store := screentest.Deps(t)
	deps.Settings.Scatter = map[string]exam.Scatter{"Bo": {SigmaS: 0.05}}
	s := base.Screen{Deps: deps}
	kept := 0
	keep := func() tea.Msg {
		return s.Update(base.KeepScatter(&s, exam.Scatter{SigmaS: 0.02}, "k", func() { kept++ })())()
	}
	store.FailWith(assert.AnError)
	fail, ok := keep().(nav.FailMsg)
	require.True(t, ok)
	assert.Contains(t, fail.Err.Error(), "NOT saved; k tries again")
	assert.Len(t, deps.Settings.Scatter, 1)
	assert.Zero(t, kept)
	store.FailWith(nil)
	settled, ok := keep().(nav.SettingsMsg)
	require.True(t, ok)
	assert.InDelta(t, 0.02, settled.Settings.Scatter[deps.Settings.Person].SigmaS, 0)
	assert.InDelta(t, 0.05, settled.Settings.Scatter["Bo"].SigmaS, 0)
	assert.Equal(t, 1, kept)
}

// TestALongReadingSaysHowFarItIs: what is quick says nothing; what is slow is told of while it runs, to its own screen alone.
func TestALongReadingSaysHowFarItIs(t *testing.T) {
	s, other := &base.Screen{}, &base.Screen{}
	var far []base.Far
	got := 0
	quick := base.ReadLong(s, func(context.Context) (int, error) { return 1, nil }, func(n int) tea.Cmd { got = n; return nil },
		func(f base.Far) { far = append(far, f) })
	s.Update(quick())
	assert.Equal(t, 1, got)
	assert.Empty(t, far)

	goOn := make(chan bool)
	slow := base.ReadLong(s, func(ctx context.Context) (int, error) {
		progress.Say(ctx, "horses", 3, 10)
		<-goOn
		return 2, nil
	}, func(n int) tea.Cmd { got = n; return nil }, func(f base.Far) { far = append(far, f) })
	msg := slow()
	assert.Nil(t, other.Update(msg))
	assert.Empty(t, far)
	again := s.Update(msg)
	require.NotNil(t, again)
	assert.Equal(t, []base.Far{{Done: 3, All: 10}}, far)
	close(goOn)
	s.Update(again())
	assert.Equal(t, 2, got)
	plain := theme.New(theme.Plain, true)
	assert.Equal(t, "Reading the round  ######..............  3 of 10 horses", far[0].Line(plain, "Reading the round", "horses", 80))
	assert.Equal(t, "Reading the round ..", base.Far{}.Line(plain, "Reading the round", "horses", 80))
}

// TestALongReadingIsGivenUp: by a later one, and where the screen is left; what is left reads nothing until it is shown.
func TestALongReadingIsGivenUp(t *testing.T) {
	s, took := &base.Screen{}, []int{}
	read := func(n int, until <-chan bool) tea.Cmd {
		return base.ReadLong(s, func(ctx context.Context) (int, error) {
			select {
			case <-ctx.Done():
				return 0, ctx.Err()
			case <-until:
				return n, nil
			}
		}, func(n int) tea.Cmd { took = append(took, n); return nil }, func(base.Far) {})
	}
	ready := make(chan bool)
	close(ready)
	first := read(1, nil)
	second := read(2, ready)
	assert.Nil(t, s.Update(first()), "no error is shown")
	assert.Nil(t, s.Update(second()))
	assert.Equal(t, []int{2}, took)

	third := read(3, nil)
	s.Hidden()
	assert.Nil(t, s.Update(third()))
	assert.Nil(t, read(4, ready), "it is covered")
	s.Update(nav.ShownMsg{})
	s.Update(read(5, ready)())
	assert.Equal(t, []int{2, 5}, took)
}
