package tui_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// page is a screen that notes what it received.
type page struct {
	name     string
	got      []tea.Msg
	typing   bool
	escapes  bool
	body     string
	cautions []string
	saving   bool
	answered func(*page) // what the next message does to the page
	reply    tea.Cmd
	hidden   int
}

func (p *page) Hidden() { p.hidden++ }

func (p *page) Saving() bool { return p.saving }

func (p *page) Init() tea.Cmd { return nil }
func (p *page) Update(m tea.Msg) tea.Cmd {
	p.got = append(p.got, m)
	if p.answered != nil {
		p.answered(p)
		return p.reply
	}
	return nil
}
func (p *page) View(layout.Size) string { return p.body }
func (p *page) Title() string           { return p.name }
func (p *page) Right() string           { return "right" }
func (p *page) Cautions() []string      { return p.cautions }
func (p *page) Keys() []keys.Binding    { return []keys.Binding{keys.Accept()} }
func (p *page) Typing() bool            { return p.typing }
func (p *page) Escape() bool            { return p.escapes }

type world struct {
	app   *tui.App
	pages map[nav.Name]*page
	now   time.Time
}

func newWorld() *world {
	w := &world{pages: map[nav.Name]*page{}, now: time.Unix(1000, 0)}
	makers := map[nav.Name]nav.Maker{}
	for _, n := range []nav.Name{nav.Home, nav.Exam, nav.Help} {
		w.pages[n] = &page{name: string(n)}
		makers[n] = func(*nav.Deps, nav.Address) nav.Screen { return w.pages[n] }
	}
	deps := &nav.Deps{Theme: theme.New(theme.Plain, true), Now: func() time.Time { return w.now }}
	w.app = tui.New(deps, makers, nav.Address{Screen: nav.Home})
	w.app.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	return w
}

func (w *world) open(n nav.Name) { w.app.Update(nav.GoMsg{To: nav.Address{Screen: n}}) }

func (w *world) top() string {
	title, _, _ := strings.Cut(strings.Split(w.app.View(), "\n")[0], " ")
	return title
}

func TestEscNeverLeaves(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	for range 5 {
		_, cmd := w.app.Update(tea.KeyMsg{Type: tea.KeyEscape})
		assert.Nil(t, cmd)
	}
	assert.Equal(t, "home", w.top())
	assert.IsType(t, nav.ShownMsg{}, w.pages[nav.Home].got[0])
}

// Over a slow line several letters come as one message.
func TestLettersReadTogetherArePressesOfTheirOwn(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("left")})
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("down"), Paste: true})
	var got []string
	for _, m := range w.pages[nav.Exam].got {
		if p, ok := m.(keys.Press); ok {
			got = append(got, string(p.Runes))
		}
	}
	assert.Equal(t, []string{"l", "e", "f", "t", "down"}, got)
}

// Where a screen does not take pasted text, the person is told.
func TestAPasteThatIsNotUsedIsTold(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	text := strings.Repeat("u n y ", 90)
	paste := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}
	w.app.Update(paste)
	assert.Contains(t, w.app.View(), "Pasted text was ignored")
	w.app.Update(tea.KeyMsg{Type: tea.KeyDown})
	assert.NotContains(t, w.app.View(), "Pasted text was ignored")
	w.pages[nav.Exam].answered = func(p *page) { p.body = "38.2 C" }
	w.app.Update(paste)
	assert.NotContains(t, w.app.View(), "Pasted text was ignored", "it was used")
}

// The hub is not opened twice: Replace goes back to a screen that is on the stack already.
func TestReplacingByWhatLiesBelowGoesBack(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	w.open(nav.Help)
	w.app.Update(nav.ReplaceMsg{To: nav.Address{Screen: nav.Exam}})
	assert.Equal(t, "exam", w.top())
	w.app.Update(tea.KeyMsg{Type: tea.KeyEscape})
	assert.Equal(t, "home", w.top())
}

func TestAScreenMayUseEscItself(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	w.pages[nav.Exam].escapes = true
	w.app.Update(tea.KeyMsg{Type: tea.KeyEscape})
	assert.Equal(t, "exam", w.top())
}

func TestHelpIsALetterWhileSomebodyTypes(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	w.pages[nav.Exam].typing = true
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("?")})
	assert.Equal(t, "exam", w.top())
	assert.Len(t, w.pages[nav.Exam].got, 1)
	w.pages[nav.Exam].typing = false
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("?")})
	assert.Equal(t, "help", w.top())
}

func TestAPressCarriesTheMomentItCame(t *testing.T) {
	w := newWorld()
	w.app.Update(tea.KeyMsg{Type: tea.KeySpace})
	p, ok := w.pages[nav.Home].got[0].(keys.Press)
	assert.True(t, ok)
	assert.Equal(t, w.now, p.At)
}

func TestCtrlCLeaves(t *testing.T) {
	_, cmd := newWorld().app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	assert.IsType(t, tea.QuitMsg{}, cmd())
}

// Leaving waits for a write that has no answer yet.
func TestLeavingWaitsForWhatIsBeingWritten(t *testing.T) {
	type answerMsg struct{}
	w := newWorld()
	w.open(nav.Exam)
	w.pages[nav.Exam].saving = true
	_, cmd := w.app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	assert.Nil(t, cmd, "not yet")
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u")})
	assert.Empty(t, w.pages[nav.Exam].got, "no key counts any more")
	w.pages[nav.Exam].answered = func(p *page) { p.saving = false }
	_, cmd = w.app.Update(answerMsg{})
	assert.NotNil(t, cmd)
	_, cmd = w.app.Update(cmd())
	assert.IsType(t, tea.QuitMsg{}, cmd())
}

func TestAFailedWriteIsReadBeforeLeaving(t *testing.T) {
	type answerMsg struct{}
	w := newWorld()
	w.open(nav.Exam)
	w.pages[nav.Exam].saving = true
	w.app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	w.pages[nav.Exam].answered = func(p *page) { p.saving = false }
	_, leave := w.app.Update(answerMsg{})
	w.app.Update(nav.FailMsg{Err: assert.AnError})
	_, cmd := w.app.Update(leave())
	assert.Nil(t, cmd)
	assert.Contains(t, w.app.View(), assert.AnError.Error())
}

// esc right after enter closes the screen, but leaving still waits for its write, and an error of it is shown.
func TestAScreenClosedWhileItWritesIsWaitedFor(t *testing.T) {
	type answerMsg struct{}
	w := newWorld()
	w.open(nav.Exam)
	w.pages[nav.Exam].saving = true
	w.pages[nav.Exam].reply = nav.Fail(assert.AnError)
	w.app.Update(tea.KeyMsg{Type: tea.KeyEscape})
	assert.Equal(t, "home", w.top())
	_, cmd := w.app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	assert.Nil(t, cmd)
	w.pages[nav.Exam].answered = func(p *page) { p.saving = false }
	_, cmd = w.app.Update(answerMsg{})
	assert.NotNil(t, cmd)
	assert.Contains(t, w.pages[nav.Exam].got, tea.Msg(answerMsg{}))
}

func TestASecondCtrlCLeavesADiskThatDoesNotAnswer(t *testing.T) {
	w := newWorld()
	w.pages[nav.Home].saving = true
	w.app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	_, cmd := w.app.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
	assert.IsType(t, tea.QuitMsg{}, cmd())
}

func TestTooSmallAWindowTakesNoKeyAndLosesNothing(t *testing.T) {
	w := newWorld()
	w.app.Update(tea.WindowSizeMsg{Width: 59, Height: 24})
	w.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u")})
	assert.Empty(t, w.pages[nav.Home].got)
	assert.Contains(t, w.app.View(), "too small")
	w.app.Update(tea.WindowSizeMsg{Width: 60, Height: 20})
	assert.Equal(t, "home", w.top())
}

func TestTheFrameFillsTheWindowWhateverAScreenDraws(t *testing.T) {
	for _, body := range []string{"", strings.Repeat("long ", 100), strings.Repeat("line\n", 100)} {
		for _, size := range []layout.Size{{W: 60, H: 20}, {W: 80, H: 24}, {W: 120, H: 40}, {W: 1, H: 1}} {
			w := newWorld()
			w.pages[nav.Home].body = body
			w.pages[nav.Home].cautions = []string{strings.Repeat("kicks ", 50)}
			w.app.Update(tea.WindowSizeMsg{Width: size.W, Height: size.H})
			w.app.Update(nav.FailMsg{Err: assert.AnError})
			lines := strings.Split(w.app.View(), "\n")
			assert.Len(t, lines, size.H)
			for _, line := range lines {
				assert.LessOrEqual(t, ansi.StringWidth(line), size.W)
			}
		}
	}
}

func TestAnErrorStaysUntilTheNextKey(t *testing.T) {
	w := newWorld()
	w.app.Update(nav.FailMsg{Err: assert.AnError})
	assert.Contains(t, w.app.View(), assert.AnError.Error())
	w.app.Update(tea.KeyMsg{Type: tea.KeyDown})
	assert.NotContains(t, w.app.View(), assert.AnError.Error())
}

func TestAMessageReachesEveryScreen(t *testing.T) {
	w := newWorld()
	w.open(nav.Exam)
	type answerMsg struct{}
	w.app.Update(answerMsg{})
	assert.Contains(t, w.pages[nav.Home].got, tea.Msg(answerMsg{}))
	assert.Contains(t, w.pages[nav.Exam].got, tea.Msg(answerMsg{}))
}

// The store is prepared once, after the first frame, and its error is shown.
func TestTheStoreIsWarmedOnceAfterTheFirstFrame(t *testing.T) {
	w := newWorld()
	warmed, waited := 0, time.Duration(0)
	deps := &nav.Deps{Now: func() time.Time { return w.now }, Theme: theme.New(theme.Plain, false)}
	deps.Warm = func() error {
		warmed++
		return errors.New("page 7 belongs to two things")
	}
	deps.After = func(after time.Duration, msg tea.Msg) tea.Cmd {
		waited = after
		return func() tea.Msg { return msg }
	}
	app := tui.New(deps, map[nav.Name]nav.Maker{nav.Home: func(*nav.Deps, nav.Address) nav.Screen { return &page{name: "home"} }}, nav.Address{Screen: nav.Home})
	_, cmd := app.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	require.NotNil(t, cmd)
	assert.Zero(t, warmed, "not before the first frame")
	assert.Greater(t, waited, 50*time.Millisecond)
	_, cmd = app.Update(cmd())
	require.NotNil(t, cmd, "a command: nothing waits for it")
	assert.Zero(t, warmed)
	app.Update(cmd())
	assert.Equal(t, 1, warmed)
	assert.Contains(t, app.View(), "page 7 belongs to two things")
	_, cmd = app.Update(tea.WindowSizeMsg{Width: 100, Height: 30})
	assert.Nil(t, cmd, "once")
}

// deaf is a patient without methods: only the sign of the rehearsal is tested.
type deaf struct{ nav.Patient }

// A screen gets the deps of the screen below, unless its address has its own. So every screen opened from a rehearsal belongs
// to it and has its sign, and the screens below do not.
func TestWhatAScreenOpensIsMadeOfTheSame(t *testing.T) {
	made := map[nav.Name]*nav.Deps{}
	makers := map[nav.Name]nav.Maker{}
	for _, n := range []nav.Name{nav.Home, nav.Exam, nav.Review, nav.Help} {
		makers[n] = func(d *nav.Deps, _ nav.Address) nav.Screen { made[n] = d; return &page{name: string(n)} }
	}
	base := &nav.Deps{Theme: theme.New(theme.Plain, true), Now: time.Now}
	app := tui.New(base, makers, nav.Address{Screen: nav.Home})
	app.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	own := *base
	own.Patient = deaf{}
	app.Update(nav.GoMsg{To: nav.Address{Screen: nav.Exam, With: &own}})
	app.Update(nav.GoMsg{To: nav.Address{Screen: nav.Review}})
	assert.Same(t, &own, made[nav.Review])
	assert.Contains(t, app.View(), nav.RehearsalSign)
	app.Update(nav.ReplaceMsg{To: nav.Address{Screen: nav.Help}})
	assert.Same(t, &own, made[nav.Help], "in place of one of the rehearsal")
	app.Update(nav.SettingsMsg{Settings: exam.Settings{Person: "Ann Bell"}})
	assert.Equal(t, "Ann Bell", own.Settings.Person, "settings reach both")
	assert.Equal(t, "Ann Bell", base.Settings.Person)
	app.Update(nav.HomeMsg{})
	assert.NotContains(t, app.View(), nav.RehearsalSign)
	app.Update(nav.GoMsg{To: nav.Address{Screen: nav.Review}})
	assert.Same(t, base, made[nav.Review], "opened from the first screen")
}

func TestAScreenIsToldThatItIsHidden(t *testing.T) {
	w := newWorld()
	w.app.Update(nav.SaidMsg{Text: "nothing"})
	assert.Zero(t, w.pages[nav.Home].hidden)
	w.open(nav.Exam)
	assert.Equal(t, 1, w.pages[nav.Home].hidden, "it is covered")
	w.app.Update(nav.BackMsg{})
	assert.Equal(t, 1, w.pages[nav.Exam].hidden, "it is closed")
	assert.Equal(t, 1, w.pages[nav.Home].hidden, "it is shown again")
	w.open(nav.Exam)
	w.app.Update(nav.ReplaceMsg{To: nav.Address{Screen: nav.Help}})
	assert.Equal(t, 2, w.pages[nav.Exam].hidden)
}
