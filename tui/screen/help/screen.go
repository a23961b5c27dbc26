// Package help is the screen that says what every key of the screen below it
// does, what the words and levels mean, and where the record is.
package help

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	page   nav.HelpPage
	first  int // line at the top
	count  int // of lines, as drawn last
	height int
}

// New makes the help for the page in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Press: s.press}
	if to.For != nil {
		s.page = *to.For
	}
	return s
}

// Typing keeps the question mark here: it closes the help that it opened.
func (s *screen) Typing() bool { return true }

func (s *screen) Title() string {
	if s.page.Title == "" {
		return "Help"
	}
	return "Help · " + s.page.Title
}

func (s *screen) Keys() []keys.Binding {
	return []keys.Binding{keys.Up().With("scroll", "scroll by a line"), keys.Down(), keys.PageDown().With("page", "")}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if keys.Help().Is(p) {
		return nav.Back()
	}
	if _, listed := keys.Find(s.page.Keys, p); listed && keys.Tour().Is(p) {
		return nav.Replace(nav.Address{Screen: nav.Tour})
	}
	// The list's cursor is the line at the top.
	l := list.List{Cursor: s.first, Height: s.height}
	if l.Move(p, max(s.count-s.height+1, 1)) {
		s.first = l.Cursor
	}
	return nil
}

func (s *screen) View(size layout.Size) string {
	lines := s.lines(size.W)
	s.count, s.height = len(lines), size.H
	if len(lines) > size.H {
		s.height = max(size.H-1, 0) // the last line says where this is
	}
	s.first = max(min(s.first, len(lines)-s.height), 0)
	end := min(s.first+s.height, len(lines))
	shown := append([]string(nil), lines[s.first:end]...)
	if len(lines) > size.H {
		shown = append(shown, s.Deps.Theme.Faint.Render(fmt.Sprintf("lines %d to %d of %d", s.first+1, end, len(lines))))
	}
	return strings.Join(shown, "\n")
}

func (s *screen) lines(width int) []string {
	t := s.Deps.Theme
	lines := []string{t.Heading.Render("keys")}
	lines = append(lines, keyLines(s.page.Keys, width)...)
	for _, text := range s.page.Words {
		lines = append(append(lines, ""), layout.Wrap(text, width)...)
	}
	for _, block := range blocks(t.Sign) {
		lines = append(lines, "", t.Heading.Render(block.heading))
		wide := 0
		for _, e := range block.entries {
			wide = max(wide, len(e.word))
		}
		for _, e := range block.entries {
			lines = append(lines, hang(e.word, e.means, wide, width)...)
		}
	}
	return lines
}

// keyLines is the table of keys, the frame's own last.
func keyLines(bindings []keys.Binding, width int) []string {
	var listed []keys.Binding
	wide := 0
	for _, b := range append(append([]keys.Binding(nil), bindings...), keys.Back(), keys.Help(), keys.Leave()) {
		if b.Does != "" || b.More != "" {
			listed = append(listed, b)
			wide = max(wide, len([]rune(b.Shown())))
		}
	}
	var lines []string
	for i, line := range keys.Table(listed) {
		text := strings.TrimSpace(strings.TrimPrefix(line, listed[i].Shown()))
		lines = append(lines, hang(listed[i].Shown(), text, wide, width)...)
	}
	return lines
}

// hang writes a word and beside it its text, wrapped under itself.
func hang(word, text string, wide, width int) []string {
	lead := 2 + wide + 2
	var lines []string
	for i, part := range layout.Wrap(text, width-lead) {
		if i > 0 {
			word = ""
		}
		lines = append(lines, "  "+layout.Pad(word, wide)+"  "+part)
	}
	return lines
}
