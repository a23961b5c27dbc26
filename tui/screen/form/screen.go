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

// Screen is a screen that is a form. Its maker sets Store and, once something was
// read, Form; it adds a title and a view. It reads once.
type Screen struct {
	base.Screen
	Form *Form // nil until it is made
	// Store is called when the form is to be saved and no row is refused.
	Store func() tea.Cmd
	// Leave is what is said before esc throws away what was typed; empty where esc
	// leaves at once.
	Leave string
	// Refused is what is said where a row is refused; empty where its own line is enough.
	Refused string
	// Storing is shown below the form while it is written; empty for a word that
	// always fits.
	Storing string
	// Said stands below the form, or above it, until the next key.
	Said string

	leave bool   // esc was pressed once
	asked string // what was asked once
}

// What most forms say where a row is refused, and what those say before esc that ctrl+s would save.
const (
	NotSaved    = "not saved yet: check the line under the cursor"
	EscDiscards = "not saved yet: esc again discards it, ctrl+s saves it"
)

// Set fills in what most forms set: Deps, Load, Store and Leave as they are given, Refused as NotSaved.
func (s *Screen) Set(deps *nav.Deps, load, store func() tea.Cmd, leave string) {
	s.Deps, s.Load, s.Store, s.Leave, s.Refused = deps, load, store, leave, NotSaved
}

// Options are what the rows of the form are made with.
func (s *Screen) Options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
}

// Begin takes the form, with what stands in it as not changed.
func (s *Screen) Begin(f *Form) {
	s.Form, s.Loaded = f, true
	f.Begin()
}

// Typing says that letters are text now.
func (s *Screen) Typing() bool { return s.Form != nil && s.Form.Typing() }

// Typed is the form: what is typed there can be taken back.
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

// Escape asks once before what was typed is thrown away.
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
	case nav.ShownMsg: // what was read stands, so that nothing typed is lost
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

// WriteEntry returns a command that writes an entry into its visit and leads back; where
// it is refused, that is said, and what was typed stays.
func (s *Screen) WriteEntry(e exam.Entry) tea.Cmd { return s.WriteEntries([]exam.Entry{e}) }

// WriteEntries writes several, of several visits; saving again writes all of them again.
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

// Asked says that a question was answered by saving once more; where it was not
// asked yet, it is asked now. Any other key takes the question back.
func (s *Screen) Asked(question string) bool {
	if s.asked == question {
		return true
	}
	s.asked, s.Said = question, question
	return false
}

// Unsay takes back what was said and asked.
func (s *Screen) Unsay() { s.leave, s.asked, s.Said = false, "", "" }

// TakeChip writes a chip that was read into the line under the cursor, where a
// chip number belongs there.
func (s *Screen) TakeChip(chip string) bool {
	if s.Form == nil || s.Saving() || !s.Form.ScanChip(chip) {
		return false
	}
	s.Unsay()
	return true
}

// Draw draws the form with lines above it, and below it that a write is on its way
// or what is said.
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

// DrawUnder draws the form under lines, which take what room they need.
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

// Clip joins lines, no more of them than there is room for.
func Clip(lines []string, size layout.Size) string {
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}
