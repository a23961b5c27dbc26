package tui

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

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
	if len(lines) > a.size.H { // the renderer would cut lines at the top: cut the middle instead
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

// keyLines is how many lines of keys stand at the bottom; keys that do not fit are listed in help only.
const keyLines = 2

// bottom are the keys at the bottom that fit the width; those of the frame are always among them.
func (a *App) bottom(width int) []keys.Binding {
	if a.alarm != "" {
		return []keys.Binding{keys.Understood(), keys.Leave().With("leave", "")}
	}
	return keys.Within(a.top().Keys(), a.frameKeys(), width, keyLines)
}

// title is the screen's title, in a rehearsal with its sign before it.
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

// frameKeys are the root's own keys: back and help, and on the first screen leave in place of back.
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
