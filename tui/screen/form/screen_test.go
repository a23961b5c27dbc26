package form_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screentest"
)

// asked is a form of one row that must be filled, and asks once about "odd".
type asked struct {
	form.Screen
	row    *form.Text
	stored []string
	fails  error
}

func (a *asked) store() tea.Cmd {
	text := a.row.Content()
	if text == "odd" && !a.Asked("odd: once more stores it") {
		return nil
	}
	return base.Write(a, func() (string, error) { return text, a.fails }, func(text string) tea.Cmd {
		a.stored = append(a.stored, text)
		return nav.Back()
	})
}

func newAsked(t *testing.T) *asked {
	t.Helper()
	deps, _ := screentest.Deps(t)
	a := &asked{}
	a.Deps, a.Store, a.Leave, a.Refused = deps, a.store, "esc again leaves", "not saved yet: check the line under the"
	a.row = form.NewText("name", "", 20, form.Needed("a name is needed"), a.Options())
	a.Begin(form.New(deps.Theme, "save it", "save").With(a.row))
	return a
}

func (a *asked) key(t tea.KeyType, text ...rune) tea.Cmd {
	return a.Update(keys.Press{KeyMsg: tea.KeyMsg{Type: t, Runes: text}})
}

func TestEscAsksOnceBeforeWhatWasTypedIsLost(t *testing.T) {
	a := newAsked(t)
	assert.False(t, a.Escape(), "nothing was typed")
	a.key(tea.KeyRunes, 'x')
	assert.True(t, a.Escape())
	assert.Equal(t, "esc again leaves", a.Said)
	a.key(tea.KeyRunes, 'y')
	assert.Empty(t, a.Said)
	assert.True(t, a.Escape(), "a key takes the question back")
	assert.False(t, a.Escape(), "the second time leaves")
	assert.Nil(t, a.Update(nav.ShownMsg{}))
	assert.Equal(t, "xy", a.row.Content())
}

func TestARefusedRowIsSaidAndNothingIsStored(t *testing.T) {
	a := newAsked(t)
	assert.Nil(t, a.key(tea.KeyCtrlS))
	assert.Equal(t, "not saved yet: check the line under the", a.Said)
	assert.Empty(t, a.stored)
	a.key(tea.KeyRunes, 'x')
	a.fails = assert.AnError
	failed := a.key(tea.KeyCtrlS)
	assert.True(t, a.Saving())
	assert.Nil(t, a.Typed(), "nothing is typed while it is written")
	assert.Contains(t, a.Draw(layout.Size{W: 60, H: 20}, nil), "saving ..")
	a.Update(failed())
	assert.False(t, a.Saving())
	assert.Equal(t, "x", a.row.Content(), "what was typed stays")
	a.fails = nil
	a.Update(a.key(tea.KeyCtrlS)())
	assert.Equal(t, []string{"x"}, a.stored)
}

func TestAQuestionIsAnsweredBySavingOnceMore(t *testing.T) {
	a := newAsked(t)
	a.key(tea.KeyRunes, 'o', 'd', 'd')
	assert.Nil(t, a.key(tea.KeyCtrlS))
	assert.Equal(t, "odd: once more stores it", a.Said)
	a.key(tea.KeyDown)
	assert.Nil(t, a.key(tea.KeyCtrlS), "another key took the question back")
	a.Update(a.key(tea.KeyCtrlS)())
	assert.Equal(t, []string{"odd"}, a.stored)
}

func TestDrawnFormsFitTheirWindow(t *testing.T) {
	a := newAsked(t)
	a.key(tea.KeyCtrlS)
	for h := range 8 {
		for _, text := range []string{a.Draw(layout.Size{W: 40, H: h}, a.Faint("what to know before the first line of the form is written", 40)), a.DrawUnder(layout.Size{W: 40, H: h}, nil)} {
			assert.LessOrEqual(t, len(layout.Lines(text)), max(h, 1))
		}
	}
}
