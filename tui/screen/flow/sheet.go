package flow

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/form"
)

// Answers is where the answers of a form stand.
type Answers interface {
	Get(key string) string
	Put(key, text string)
}

// Sheet is a form made of fields.
type Sheet struct {
	s    *Screen
	form *form.Form
	to   Answers
	read []func() // puts what stands in a row into the answers
	head func(width int) []string
	done func() tea.Cmd
	more []Extra
	// Leaving is asked once before esc leaves what was typed; empty for not at all.
	Leaving string
	// Numbers says that no line takes letters, so that the further keys work while
	// one is typed into.
	Numbers bool
	// Only is the one letter that does what the last line says, so that an enter
	// pressed once too often does not. Without keys enter does it.
	Only  keys.Binding
	asked bool
}

// NewSheet makes a form of fields whose last line has the given words, and does
// what done says when every field is good.
func NewSheet(s *Screen, action, does string, to Answers, fields []needle.Field, head func(width int) []string, done func() tea.Cmd, more ...Extra) *Sheet {
	f := &Sheet{s: s, form: form.New(s.Deps.Theme, action, does), to: to, head: head, done: done, more: more}
	for _, field := range fields {
		f.add(field)
	}
	f.form.Begin()
	return f
}

func (f *Sheet) add(field needle.Field) {
	o, now := f.s.Options(), f.to.Get(field.Key)
	switch {
	case field.Counted:
		row := form.NewCounts(field.Label, field.Choices, now, needle.MostTubes, field.Check, field.Hint)
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() { f.to.Put(field.Key, row.State()) })
	case field.Many:
		set := strings.FieldsFunc(now, func(r rune) bool { return r == ',' })
		row := form.NewMarks(field.Label, field.Choices, set, nil, o)
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() { f.to.Put(field.Key, strings.Join(row.Set(), ",")) })
	case field.Choices != nil:
		row := form.NewChoice(field.Label, field.Choices, now, o)
		if field.Proposed != nil && now == field.Proposed() { // another was chosen before, and stands
			row.Propose(field.Proposed)
		}
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() {
			row.Follow()
			f.to.Put(field.Key, row.Chosen())
		})
	default:
		row := form.NewText(field.Label, now, field.Limit, field.Check, o).Hint(field.Hint)
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() { f.to.Put(field.Key, row.Content()) })
	}
}

// ToEnd puts the cursor on the last line, where enter goes on.
func (f *Sheet) ToEnd() *Sheet {
	f.form.ToEnd()
	return f
}

// Press hands a key to the form; what stands in its rows is in the answers after it.
func (f *Sheet) Press(p keys.Press) tea.Cmd {
	f.asked = false
	if !f.form.Typing() {
		if f.Only.Is(p) {
			return f.save()
		}
	}
	if f.furtherKeys() {
		if cmd, did := pressExtra(f.more, p); did {
			return cmd
		}
	}
	out := f.form.Press(p)
	for _, read := range f.read {
		read()
	}
	switch {
	case out != form.Save:
		return nil
	case f.Only.Keys != nil:
		f.s.Say(fmt.Sprintf("Enter does not say it. Press %s: %s.", f.Only.Shown(), f.Only.Does))
		return nil
	}
	return f.save()
}

// furtherKeys says that the keys beside the form's own work now.
func (f *Sheet) furtherKeys() bool { return f.Numbers || !f.form.Typing() }

// save does what the form is for, once every line is good.
func (f *Sheet) save() tea.Cmd {
	if !f.form.Check() {
		f.s.Say("Nothing is written down yet: look at the line under the cursor.")
		return nil
	}
	return f.done()
}

// Lines is the head and the form.
func (f *Sheet) Lines(size layout.Size) []string {
	var head []string
	if f.head != nil {
		head = f.head(size.W)
	}
	if most := size.H - 5; len(head) > max(most, 0) { // the form keeps its room
		if head = head[:max(most, 0)]; len(head) > 0 {
			head[len(head)-1] = layout.Cut(head[len(head)-1]+" ..", size.W)
		}
	}
	return append(head, f.form.Lines(layout.Size{W: size.W, H: size.H - len(head)})...)
}

// Keys are the form's.
func (f *Sheet) Keys() []keys.Binding {
	if !f.furtherKeys() {
		return f.form.Keys()
	}
	if f.Only.Keys != nil {
		return append([]keys.Binding{f.Only, keys.Up()}, bindings(f.more)...)
	}
	return append(f.form.Keys(), bindings(f.more)...)
}

// Typing is the form's.
func (f *Sheet) Typing() bool { return f.form.Typing() }

// Escape asks once before what was typed is thrown away.
func (f *Sheet) Escape() bool {
	if f.Leaving == "" || f.asked {
		return false
	}
	f.asked = true
	f.s.Say(f.Leaving)
	return true
}

// Changed says whether anything was typed.
func (f *Sheet) Changed() bool { return f.form.Changed() }

// words is a part with one line of text, for a reason.
type words map[string]string

// Get is the text.
func (w words) Get(key string) string { return exam.CleanLine(w[key], 0) }

// Put sets it.
func (w words) Put(key, text string) { w[key] = text }

// Blank is a place for the answers of a small form.
func Blank() Answers { return words{} }
