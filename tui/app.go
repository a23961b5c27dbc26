// Package tui is the program in the terminal. Its root model holds the size, the
// stack of screens and the frame, and knows no screen's keys.
package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// App is the root model.
type App struct {
	deps    *nav.Deps
	makers  map[nav.Name]nav.Maker
	stack   []floor
	size    layout.Size
	problem string
	done    string       // what was done, until the next key
	alarm   string       // the wrong horse stands here; until it is acknowledged no key counts
	leaving bool         // ctrl+c came while an answer was being written
	closed  []nav.Screen // closed with esc while they waited for the store
	watches watches
}

// floor is a screen on the stack with what it was made of, which whatever it
// opens is made of as well.
type floor struct {
	nav.Screen
	deps *nav.Deps
	at   nav.Address
}

// is says that an address is the floor's own.
func (f floor) is(to nav.Address) bool {
	return f.at.Screen == to.Screen && f.at.Visit == to.Visit && f.at.Number == to.Number
}

// New makes the root with its first screen on the stack. Further addresses are
// opened on top of it, in order.
func New(deps *nav.Deps, makers map[nav.Name]nav.Maker, first nav.Address, then ...nav.Address) *App {
	a := &App{deps: deps, makers: makers, watches: watches{deps: deps}}
	for _, to := range append([]nav.Address{first}, then...) {
		a.push(a.deps, to)
	}
	return a
}

// Init starts every screen on the stack, and looks for watches that run.
func (a *App) Init() tea.Cmd {
	cmds := make([]tea.Cmd, len(a.stack))
	for i, s := range a.stack {
		cmds[i] = s.Init()
	}
	return tea.Batch(append(cmds, a.watches.read())...)
}

// warmAfter is when the store is made ready for its first write: the first frame
// and the first list are drawn by then.
const warmAfter = 150 * time.Millisecond

type warmMsg struct{}

// warm tells of a damaged record now and not at the first answer.
func (a *App) warm() tea.Cmd {
	ready := a.deps.Warm
	return func() tea.Msg {
		if err := ready(); err != nil {
			return nav.FailMsg{Err: err}
		}
		return nil
	}
}

// leaveMsg comes when what was being written is answered and its messages are in.
type leaveMsg struct{}

// Update hands every message on. Where leaving waits for the store, it follows the
// answer; an error stays on the screen instead, to be read.
func (a *App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	waiting, top := a.leaving && a.saving(), a.top().Screen
	cmd := a.update(msg)
	if reader, reads := top.(nav.LongReader); reads && a.top().Screen != top {
		reader.Hidden()
	}
	if waiting && a.leaving && !a.saving() {
		return a, tea.Sequence(cmd, func() tea.Msg { return leaveMsg{} })
	}
	return a, cmd
}

// saving says that a screen waits for the store.
func (a *App) saving() bool {
	return slices.ContainsFunc(a.stack, func(f floor) bool { return writes(f.Screen) }) || slices.ContainsFunc(a.closed, writes)
}

func writes(s nav.Screen) bool {
	w, ok := s.(nav.Saver)
	return ok && w.Saving()
}

// update takes presses that the keyboard has stamped, and every other message.
func (a *App) update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case keys.Press:
		return a.press(m)
	case tea.KeyMsg: // without a keyboard before it: each letter is a press
		var cmds []tea.Cmd
		for _, p := range singly(m, a.deps.Now()) {
			cmds = append(cmds, a.press(p))
		}
		return tea.Batch(cmds...)
	case scannedMsg:
		return a.takeScan(m)
	case tea.WindowSizeMsg:
		first := a.size.W == 0
		a.size = layout.Size{W: m.Width, H: m.Height}
		if first && a.deps.Warm != nil {
			return a.deps.Later(warmAfter, warmMsg{})
		}
		return nil
	case warmMsg:
		return a.warm()
	case nav.GoMsg:
		return a.open(a.top().deps, m.To)
	case nav.ReplaceMsg:
		if n := len(a.stack); n > 1 && a.stack[n-2].is(m.To) { // it lies below, and is not stacked twice
			return a.back()
		}
		deps := a.top().deps
		a.stack = a.stack[:len(a.stack)-1]
		return a.open(deps, m.To)
	case nav.BackMsg:
		return a.back()
	case nav.HomeMsg:
		a.stack = a.stack[:1]
		return a.top().Update(nav.ShownMsg{})
	case nav.FailMsg:
		a.problem, a.leaving = m.Err.Error(), false
		return nil
	case nav.WatchingMsg:
		return a.watches.read()
	case readWatchesMsg:
		return a.watches.take(m)
	case tickWatchesMsg:
		return a.watches.tick(m)
	case nav.SaidMsg:
		a.problem, a.done = m.Text, ""
		if m.Done {
			a.problem, a.done = "", m.Text
		}
		return nil
	case nav.SharedMsg:
		return a.shared(m)
	case leaveMsg:
		if a.leaving {
			return tea.Quit
		}
		return nil
	case nav.RoutineMsg:
		for _, f := range a.stack {
			f.deps.Routines = exam.WithRoutine(f.deps.Routines, m.Routine)
		}
		return nil
	case nav.SettingsMsg:
		a.settle(m.Settings)
		return a.top().Update(m)
	default:
		return a.all(msg)
	}
}

// press handles the keys that are the same everywhere and hands on the rest.
func (a *App) press(p keys.Press) tea.Cmd {
	a.problem, a.done = "", ""
	switch {
	case keys.Leave().Is(p) && a.saving() && !a.leaving:
		a.leaving = true // after the answer; a second time leaves a disk that does not answer
		return nil
	case keys.Leave().Is(p):
		return tea.Quit
	case a.leaving:
		return nil
	case a.size.Small() && a.size.W > 0:
		return nil // nothing may be typed into what cannot be seen
	case a.alarm != "" && keys.Understood().Is(p):
		a.alarm = ""
		return nil
	case a.alarm != "":
		return nil
	case keys.Watched().Is(p) && len(a.watches.running) > 0:
		return a.watch()
	case keys.Back().Is(p):
		if a.top().Escape() {
			return nil
		}
		if leaver, ok := a.top().Screen.(nav.Leaver); ok {
			if to, instead := leaver.Instead(); instead {
				return a.update(nav.ReplaceMsg{To: to})
			}
		}
		return a.back()
	case keys.Help().Is(p) && !a.top().Typing():
		top := a.top()
		return a.open(top.deps, nav.Address{Screen: nav.Help, For: &nav.HelpPage{Title: top.Title(), Keys: top.Keys()}})
	}
	return a.top().Update(p)
}

// all hands a message to every screen: an answer from the store may belong to
// one that is covered now.
func (a *App) all(msg tea.Msg) tea.Cmd {
	stays := a.closed[:0]
	var failed []tea.Cmd
	for _, s := range a.closed {
		failed = append(failed, onlyFailure(s.Update(msg)))
		if writes(s) {
			stays = append(stays, s)
		}
	}
	a.closed = stays
	cmds := make([]tea.Cmd, len(a.stack), len(a.stack)+len(failed))
	for i, s := range a.stack {
		cmds[i] = s.Update(msg)
	}
	return tea.Batch(append(cmds, failed...)...)
}

// onlyFailure lets a closed screen say that its write failed, and nothing else.
func onlyFailure(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() tea.Msg {
		if fail, ok := cmd().(nav.FailMsg); ok {
			return fail
		}
		return nil
	}
}

func (a *App) top() floor { return a.stack[len(a.stack)-1] }

// settle takes settings that were stored, for every screen on the stack.
func (a *App) settle(set exam.Settings) {
	t := a.deps.Theme.As(theme.Name(set.Theme))
	judge := a.deps.Judge.Reads(set.Units)
	a.deps.Settings, a.deps.Theme, a.deps.Judge = set, t, judge
	for _, f := range a.stack {
		f.deps.Settings, f.deps.Theme, f.deps.Judge = set, t, judge
	}
}

// push makes a screen out of what the address brings along, or else the deps.
func (a *App) push(deps *nav.Deps, to nav.Address) bool {
	maker, ok := a.makers[to.Screen]
	if !ok {
		a.problem = fmt.Sprintf("there is no screen %q", to.Screen)
		return false
	}
	if to.With != nil {
		deps = to.With
	}
	a.stack = append(a.stack, floor{maker(deps, to), deps, to})
	return true
}

func (a *App) open(deps *nav.Deps, to nav.Address) tea.Cmd {
	if !a.push(deps, to) {
		return nil
	}
	return a.top().Init()
}

// back closes the top screen; the first one stays, because esc never leaves.
func (a *App) back() tea.Cmd {
	if len(a.stack) == 1 {
		return nil
	}
	if top := a.top().Screen; writes(top) {
		a.closed = append(a.closed, top)
	}
	a.stack = a.stack[:len(a.stack)-1]
	return a.top().Update(nav.ShownMsg{})
}

// View draws the frame: title line, cautions, body, keys.
func (a *App) View() string {
	if a.size.W == 0 {
		return ""
	}
	if a.size.Small() {
		return a.small()
	}
	t, top, w := a.deps.Theme, a.top(), a.size.W
	head := []string{a.headline(w)}
	if cautions := top.Cautions(); len(cautions) > 0 {
		head = append(head, a.cautions(cautions)...)
	}
	if line := a.watches.line(w); line != "" {
		head = append(head, line)
	}
	head = append(head, t.Across(w))
	var foot []string
	switch {
	case a.problem != "":
		for _, line := range layout.Wrap(t.Sign.NotDone+" "+a.problem, w) {
			foot = append(foot, t.Error.Render(layout.Pad(line, w)))
		}
	case a.done != "":
		for _, line := range layout.Wrap(t.Sign.Done+" "+a.done, w) {
			foot = append(foot, t.Strong.Render(layout.Pad(line, w)))
		}
	}
	foot = append(foot, t.Across(w))
	for _, line := range keys.Line(a.bottom(w), w, a.hint) {
		foot = append(foot, layout.Pad(line, w))
	}
	body := layout.Size{W: w, H: max(a.size.H-len(head)-len(foot), 0)}
	lines := append(head, layout.Fit(a.body(body), body)...)
	lines = append(lines, foot...)
	if len(lines) > a.size.H { // the renderer would lose the top, so the middle goes
		lines = append(lines[:a.size.H-len(foot)], foot...)
	}
	return t.Letters(strings.Join(lines, "\n"))
}

// body is the screen on top, or the alarm in its place.
func (a *App) body(size layout.Size) []string {
	if a.alarm != "" {
		return a.alarmLines(size)
	}
	return layout.Lines(a.top().View(size))
}

// keyLines is how many lines the keys have at the bottom; what they do not hold, help names.
const keyLines = 2

// bottom are the keys that stand at the bottom, the frame's always.
func (a *App) bottom(width int) []keys.Binding {
	if a.alarm != "" {
		return []keys.Binding{keys.Understood(), keys.Leave().With("leave", "")}
	}
	return keys.Within(a.top().Keys(), a.frameKeys(), width, keyLines)
}

// title is the screen's, behind the sign of a rehearsal where it belongs to one.
func (a *App) title() string {
	t, top := a.deps.Theme, a.top()
	if top.deps.Patient == nil {
		return t.Title.Render(top.Title())
	}
	return t.Warn.Render(nav.RehearsalSign) + t.Title.Render(" · "+top.Title())
}

// cautions are drawn on one line, or on two where one does not hold them.
func (a *App) cautions(list []string) []string {
	lines := layout.Wrap(theme.Caution+" "+notation.CleanLine(strings.Join(list, ", "), 0), a.size.W)
	lines = lines[:min(len(lines), 2)]
	for i := range lines {
		lines[i] = a.deps.Theme.Caution.Render(layout.Pad(lines[i], a.size.W))
	}
	return lines
}

// frameKeys are the root's own: the first screen has no step back, so it says
// how to leave instead.
func (a *App) frameKeys() []keys.Binding {
	if len(a.stack) == 1 {
		return []keys.Binding{a.help(), keys.Leave().With("leave", "")}
	}
	return []keys.Binding{keys.Back(), a.help()}
}

// help is the key for help, where it is not text.
func (a *App) help() keys.Binding {
	if a.top().Typing() {
		return keys.Help().OffIf("? is text here; leave the line first")
	}
	return keys.Help()
}

func (a *App) small() string {
	text := []string{
		"This window is too small.",
		fmt.Sprintf("It has %d x %d; loosebox needs %d x %d.", a.size.W, a.size.H, layout.MinWidth, layout.MinHeight),
		"Make it larger, or the letters smaller.",
		"Nothing is lost.",
	}
	return strings.Join(layout.Fit(text, a.size), "\n")
}
