// Package screentest drives one screen inside the real frame, without a terminal: it takes keys, runs commands until none
// is left, and returns the drawn lines.
package screentest

import (
	"reflect"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// Driver holds a program with one real screen; every other screen is a stub
// that remembers its address.
type Driver struct {
	t    testing.TB
	app  *tui.App
	deps *nav.Deps
	size layout.Size
	to   []nav.Address
	made nav.Screen
	Quit bool
}

// Sizes are the windows in which every screen is drawn.
func Sizes() []layout.Size { return []layout.Size{{W: 60, H: 20}, {W: 80, H: 24}, {W: 120, H: 40}} }

// New opens the screen that maker makes at an address, in a window of the given size.
func New(t testing.TB, deps *nav.Deps, maker nav.Maker, to nav.Address, size layout.Size) *Driver {
	t.Helper()
	d := &Driver{t: t, deps: deps, size: size}
	makers := map[nav.Name]nav.Maker{}
	for name := range tui.Screens() {
		makers[name] = func(_ *nav.Deps, to nav.Address) nav.Screen {
			d.to = append(d.to, to)
			return &stub{to}
		}
	}
	makers["below"] = func(_ *nav.Deps, _ nav.Address) nav.Screen { return &stub{nav.Address{Screen: "below"}} }
	at := to
	if at.Screen == "" {
		at.Screen = "tested"
	}
	stubbed := makers[at.Screen]
	makers[at.Screen] = func(deps *nav.Deps, again nav.Address) nav.Screen {
		if d.made != nil {
			return stubbed(deps, again)
		}
		d.made = maker(deps, to)
		return d.made
	}
	d.app = tui.New(deps, makers, nav.Address{Screen: "below"}, at)
	d.Send(tea.WindowSizeMsg{Width: size.W, Height: size.H})
	d.run(d.app.Init())
	return d
}

// Screen is the screen under test.
func (d *Driver) Screen() nav.Screen { return d.made }

// Opened lists the addresses that the screen led to, oldest first.
func (d *Driver) Opened() []nav.Address { return d.to }

// Last is the address that the screen led to last; empty for none.
func (d *Driver) Last() nav.Address {
	if len(d.to) == 0 {
		return nav.Address{}
	}
	return d.to[len(d.to)-1]
}

// Left reports whether the screen was closed, with no other opened in its place.
func (d *Driver) Left() bool { return strings.HasPrefix(d.Lines()[0], "stub below") }

// Resize changes the window.
func (d *Driver) Resize(size layout.Size) {
	d.size = size
	d.Send(tea.WindowSizeMsg{Width: size.W, Height: size.H})
}

// Press presses keys by the names that bubbletea gives them; "space" is what
// Unix sends, "windows space" what Windows does.
func (d *Driver) Press(names ...string) {
	d.t.Helper()
	for _, name := range names {
		d.Send(Key(name))
		d.View()
	}
}

// Type types a text, one key a character.
func (d *Driver) Type(text string) {
	d.t.Helper()
	for _, r := range text {
		d.Send(Key(string(r)))
	}
	d.View()
}

// Paste pastes a text at once.
func (d *Driver) Paste(text string) {
	d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
}

// Scan types a line as a reader does, followed by enter. A burst.Separator in it is sent as the key that a terminal makes
// of it.
func (d *Driver) Scan(line string) {
	reader := tui.NewKeyboard(d.app)
	var keys []tea.KeyMsg
	for i, part := range strings.Split(line, "\x1d") {
		if i > 0 {
			keys = append(keys, tea.KeyMsg{Type: tea.KeyCtrlCloseBracket})
		}
		keys = append(keys, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(part)})
	}
	for _, m := range append(keys, tea.KeyMsg{Type: tea.KeyEnter}) {
		_, cmd := reader.Update(m)
		d.run(cmd)
	}
	d.View()
}

// Key is the message of a key by the name that bubbletea gives it; other text is typed runes.
func Key(name string) tea.KeyMsg {
	switch name {
	case "space", " ":
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	case "windows space":
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{' '}}
	}
	for t := tea.KeyType(-200); t < 200; t++ { // named keys are negative, controls small
		if t != tea.KeyRunes && t.String() == name {
			return tea.KeyMsg{Type: t}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// Send passes a message to the program and runs commands until none is left.
func (d *Driver) Send(msg tea.Msg) {
	_, cmd := d.app.Update(msg)
	d.run(cmd)
}

func (d *Driver) run(cmd tea.Cmd) {
	Run(cmd, func(msg tea.Msg) {
		if _, quit := msg.(tea.QuitMsg); quit {
			d.Quit = true
			return
		}
		d.Send(msg)
	})
}

// Run runs a command, also those within a batch or a sequence, in order, and passes every message to send.
func Run(cmd tea.Cmd, send func(tea.Msg)) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			Run(c, send)
		}
	default:
		if v := reflect.ValueOf(msg); v.Kind() == reflect.Slice && v.Type().Elem() == reflect.TypeFor[tea.Cmd]() {
			for i := range v.Len() {
				Run(v.Index(i).Interface().(tea.Cmd), send)
			}
			return
		}
		send(msg)
	}
}

// Press1 is a key as a screen gets it, for benchmarks of Update.
func Press1(name string, at time.Time) keys.Press { return keys.Press{KeyMsg: Key(name), At: at} }

type stub struct{ to nav.Address }

func (s *stub) Init() tea.Cmd           { return nil }
func (s *stub) Update(tea.Msg) tea.Cmd  { return nil }
func (s *stub) View(layout.Size) string { return "" }
func (s *stub) Title() string           { return "stub " + string(s.to.Screen) }
func (s *stub) Right() string           { return "" }
func (s *stub) Cautions() []string      { return nil }
func (s *stub) Keys() []keys.Binding    { return nil }
func (s *stub) Typing() bool            { return false }
func (s *stub) Escape() bool            { return false }
