package form

import (
	"cmp"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// Screen is embedded by a screen that is a form. That sets Store and, once the record was read, the form with Begin, and
// adds Title and View. It reads only once, so that nothing typed is lost.
type Screen struct {
	base.Screen
	Form *Form // nil until it is made
	// Store is called when the form is to be saved and no row is refused.
	Store func() tea.Cmd
	// Leave is shown at the first esc after something was typed; empty where esc leaves at once.
	Leave string
	// Refused is shown where a row is refused; empty where the sentence of the row is enough.
	Refused string
	// Storing is shown below the form while it is written; empty for "saving ..".
	Storing string
	// Said is shown with the form until the next key.
	Said string

	leave bool   // esc was pressed once
	asked string // what was asked once
}

// The usual values of Refused, and of Leave where ctrl+s saves.
const (
	NotSaved    = "not saved yet: check the line under the cursor"
	EscDiscards = "not saved yet: esc again discards it, ctrl+s saves it"
)

// Set fills in what most forms set: Deps, Load, Store and Leave as they are given, Refused as NotSaved.
func (s *Screen) Set(deps *nav.Deps, load, store func() tea.Cmd, leave string) {
	s.Deps, s.Load, s.Store, s.Leave, s.Refused = deps, load, store, leave, NotSaved
}

// Options are the options for the rows of the form, from Deps.
func (s *Screen) Options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
}

// Begin sets the form, with its present content as unchanged.
func (s *Screen) Begin(f *Form) {
	s.Form, s.Loaded = f, true
	f.Begin()
}

// Typing says that letters are text now.
func (s *Screen) Typing() bool { return s.Form != nil && s.Form.Typing() }

// Typed is the form, whose presses can be undone; nil before it is made.
func (s *Screen) Typed() keys.Light {
	if s.Form == nil || s.Saving() {
		return nil
	}
	return s.Form
}

// Keys are those of the form.
func (s *Screen) Keys() []keys.Binding {
	if s.Form == nil {
		return nil
	}
	return s.Form.Keys()
}

// Escape is true for the first esc after something was typed: it shows Leave instead of closing.
func (s *Screen) Escape() bool {
	if s.Leave == "" || s.Form == nil || s.Saving() || s.leave || !s.Form.Changed() {
		return false
	}
	s.leave, s.asked, s.Said = true, "", s.Leave
	return true
}

// Leaving says that esc was pressed once.
func (s *Screen) Leaving() bool { return s.leave }

// Update takes answers and keys.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case nav.ShownMsg: // not read again, so that nothing typed is lost
		return nil
	case keys.Press:
		return s.press(m)
	}
	return s.Screen.Update(msg)
}

func (s *Screen) press(p keys.Press) tea.Cmd {
	if s.Form == nil || s.Saving() {
		return nil
	}
	out := s.Form.Press(p)
	s.leave, s.Said = false, ""
	switch {
	case out == Save && s.Form.Check():
		return s.Store()
	case out == Save:
		s.Said = s.Refused
	}
	s.asked = ""
	return nil
}

// WriteEntry returns a command that stores an entry in its visit and then goes back. A refusal is shown, and what was typed
// stays.
func (s *Screen) WriteEntry(e exam.Entry) tea.Cmd { return s.WriteEntries([]exam.Entry{e}) }

// WriteEntries is WriteEntry for several entries, also of several visits. Saving again after a refusal stores all again.
func (s *Screen) WriteEntries(list []exam.Entry) tea.Cmd {
	d := s.Deps.Desk
	return base.Write(s, func() (struct{}, error) {
		_, err := d.WriteAll(list...)
		if err != nil {
			err = fmt.Errorf("NOT saved; what you typed is still here: %w", err)
		}
		return struct{}{}, err
	}, func(struct{}) tea.Cmd { return nav.Back() })
}

// Asked asks a question once: the first call shows it and returns false; it returns true when the person saves again. Any
// other key in between withdraws the question.
func (s *Screen) Asked(question string) bool {
	if s.asked == question {
		return true
	}
	s.asked, s.Said = question, question
	return false
}

// Unsay clears what is shown and asked.
func (s *Screen) Unsay() { s.leave, s.asked, s.Said = false, "", "" }

// TakeChip writes a chip that was read into the row under the cursor; false where that row is not for a chip number.
func (s *Screen) TakeChip(chip string) bool {
	if s.Form == nil || s.Saving() || !s.Form.ScanChip(chip) {
		return false
	}
	s.Unsay()
	return true
}

// Draw draws the form in a window: head above it, and below it Storing during a write, or Said.
func (s *Screen) Draw(size layout.Size, head []string) string {
	t := s.Deps.Theme
	var foot []string
	switch {
	case s.Saving():
		foot = []string{t.Faint.Render(cmp.Or(s.Storing, "saving .."))}
	case s.Said != "":
		for _, l := range layout.Wrap(t.Sign.NotDone+" "+s.Said, size.W) {
			foot = append(foot, t.Error.Render(l))
		}
	}
	room := layout.Size{W: size.W, H: max(size.H-len(head)-len(foot), 1)}
	lines := append(head, layout.Fit(s.Form.Lines(room), room)...)
	return Clip(append(lines, foot...), size)
}

// DrawUnder draws the form under head, which gets all the lines that it has.
func (s *Screen) DrawUnder(size layout.Size, head []string) string {
	return Clip(append(head, s.Form.Lines(layout.Size{W: size.W, H: max(size.H-len(head), 1)})...), size)
}

// Faint are the lines of a text above a form.
func (s *Screen) Faint(text string, width int) []string {
	var lines []string
	for _, l := range layout.Wrap(text, width) {
		lines = append(lines, s.Deps.Theme.Faint.Render(l))
	}
	return lines
}

// Clip joins at most size.H of the lines.
func Clip(lines []string, size layout.Size) string {
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}
