package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/burst"
	"loosebox/tui/hold"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// Keyboard is the model between the terminal and the App. It gives every press its time, lets a held key act once, and
// collects what a reader of chips types, so that no screen takes either for an answer.
type Keyboard struct {
	app     *App
	run     burst.Run
	key     hold.Pressed
	putBack func()    // undoes what acted since the run began
	seen    time.Time // presses before this are dropped
	armed   time.Time // when the next dueMsg comes; zero for none
}

// NewKeyboard puts a keyboard before the App.
func NewKeyboard(app *App) *Keyboard { return &Keyboard{app: app} }

// NoEscMsg says that the last esc was not a key but the first byte of an answer of the terminal.
type NoEscMsg struct{}

// dueMsg comes when a press has waited long enough.
type dueMsg struct {
	at    time.Time
	tries int
}

// On a busy machine a dueMsg may come late, before keys that were typed meanwhile are read. It is then sent once more, but
// not without end.
const (
	lateBy   = 5 * time.Millisecond
	onceMore = 30 * time.Millisecond
	mostLate = 5
)

// Init starts the App.
func (k *Keyboard) Init() tea.Cmd { return k.app.Init() }

// View is the App's view.
func (k *Keyboard) View() string { return k.app.View() }

// Update handles keys, and passes every other message to the App.
func (k *Keyboard) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.KeyMsg:
		return k, k.typed(m, k.app.deps.Now())
	case keys.Press:
		return k, k.typed(m.KeyMsg, m.At)
	case dueMsg:
		return k, k.due(m)
	case NoEscMsg:
		k.run.NoEsc()
		return k, nil
	case tea.WindowSizeMsg:
		k.grows()
	}
	_, cmd := k.app.Update(msg)
	return k, cmd
}

// blind is how long presses are ignored after a window grew from too small: on a busy machine a press from before may
// arrive after the new size.
const blind = 150 * time.Millisecond

// grows notes a new size. Keys that were pressed while the window was too small do nothing.
func (k *Keyboard) grows() {
	if size := k.app.size; size.W > 0 && size.Small() {
		k.seen = k.app.deps.Now().Add(blind)
	}
}

// typed handles one read: a key, or several letters, which a slow connection brought together. Each letter is a press of
// its own.
func (k *Keyboard) typed(m tea.KeyMsg, at time.Time) tea.Cmd {
	var cmds []tea.Cmd
	for _, p := range singly(m, at) {
		cmds = append(cmds, k.do(k.run.Pause(at))...) // a press that acts now may open another screen
		cmds = append(cmds, k.do(k.run.Press(p, k.app.light(p)))...)
	}
	return tea.Batch(append(cmds, k.arm(at))...)
}

// singly makes one press of each letter that was read; pasted text stays whole.
func singly(m tea.KeyMsg, at time.Time) []keys.Press {
	if m.Type != tea.KeyRunes || m.Paste || len(m.Runes) < 2 {
		return []keys.Press{{KeyMsg: m, At: at}}
	}
	out := make([]keys.Press, len(m.Runes))
	for i, r := range m.Runes {
		out[i] = keys.Press{KeyMsg: m, At: at}
		out[i].Runes = []rune{r}
	}
	return out
}

func (k *Keyboard) do(deeds []burst.Deed) []tea.Cmd {
	var cmds []tea.Cmd
	for _, d := range deeds {
		switch d.Kind {
		case burst.Act:
			cmds = append(cmds, k.act(k.key.Press(d.Press, k.app.free(d.Press)))...)
		case burst.Keep:
			k.putBack = k.app.keep()
		case burst.TakeBack:
			if k.putBack != nil {
				k.putBack()
			}
		case burst.Scan:
			cmds = append(cmds, k.act(k.key.Release())...)
			cmds = append(cmds, k.app.scanned(d.Text, d.Typed))
		}
	}
	return cmds
}

func (k *Keyboard) act(list []keys.Press) []tea.Cmd {
	var cmds []tea.Cmd
	for _, p := range list {
		if p.At.Before(k.seen) && !keys.Leave().Is(p) {
			continue
		}
		_, cmd := k.app.Update(p)
		cmds = append(cmds, cmd)
	}
	return cmds
}

// arm asks for a dueMsg at the time when the first waiting press is due, unless one comes earlier.
func (k *Keyboard) arm(now time.Time) tea.Cmd {
	next := k.run.Until()
	if !k.run.Waits() && !k.key.Until().IsZero() && (next.IsZero() || k.key.Until().Before(next)) {
		next = k.key.Until()
	}
	if next.IsZero() || !k.armed.IsZero() && !k.armed.After(next) {
		return nil
	}
	k.armed = next
	return k.app.deps.Later(max(next.Sub(now), 0), dueMsg{at: next})
}

func (k *Keyboard) due(m dueMsg) tea.Cmd {
	now := k.app.deps.Now()
	if now.Before(m.at) {
		now = m.at
	}
	if m.tries < mostLate && now.Sub(m.at) > lateBy {
		again := now.Add(onceMore)
		k.armed = again
		return k.app.deps.Later(onceMore, dueMsg{at: again, tries: m.tries + 1})
	}
	if k.armed.Equal(m.at) {
		k.armed = time.Time{}
	}
	cmds := k.do(k.run.Due(now))
	if !k.run.Waits() { // otherwise the next repeat of the key may still be waiting there
		cmds = append(cmds, k.act(k.key.Due(now))...)
	}
	return tea.Batch(append(cmds, k.arm(now))...)
}

// light reports whether a press only types or moves a cursor, so that it can be undone.
func (a *App) light(p keys.Press) bool {
	on := a.typedOn()
	return on != nil && on.Light(p)
}

// typedOn is the part of the screen on top whose presses can be undone; nil for none.
func (a *App) typedOn() keys.Light {
	t, ok := a.top().Screen.(nav.Typer)
	if !ok || a.alarm != "" || a.leaving || a.size.Small() {
		return nil
	}
	return t.Typed()
}

// keep saves the state of that part; putBack restores it, nil where there is none.
func (a *App) keep() (putBack func()) {
	if on := a.typedOn(); on != nil {
		return on.Keep()
	}
	return nil
}

// free reports whether a held key may repeat, because it does not answer anything.
func (a *App) free(p keys.Press) bool {
	if _, typed := keys.Text(p); typed && a.top().Typing() {
		return true
	}
	return keys.Repeats(p) || a.light(p)
}
