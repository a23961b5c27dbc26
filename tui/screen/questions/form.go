package questions

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/form"
)

// fields is a form of a script.
type fields struct {
	s    *Screen
	q    *script.Question
	form *form.Form
	read []func()    // puts what stands in a row into the answers
	lot  form.Widget // that takes a lot number; nil for none
}

func newForm(s *Screen, q *script.Question) *fields {
	f := &fields{s: s, q: q, form: form.New(s.Deps.Theme, q.Form.Action, q.Form.Does)}
	for _, field := range q.Form.Fields {
		if f.add(field); field.Key == q.Form.At {
			f.form.GoLast()
		}
	}
	if f.form.Begin(); q.Form.AtEnd {
		f.form.ToEnd()
	}
	return f
}

func (f *fields) add(field order.Field) {
	o, now := f.s.options(), f.q.Form.To.Get(field.Key)
	switch {
	case field.Counted:
		row := form.NewCounts(field.Label, field.Choices, now, order.MostTubes, field.Check, field.Hint)
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() { f.q.Form.To.Put(field.Key, row.State()) })
	case field.Many:
		set := strings.FieldsFunc(now, func(r rune) bool { return r == ',' })
		row := form.NewMarks(field.Label, field.Choices, set, nil, o)
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() { f.q.Form.To.Put(field.Key, strings.Join(row.Set(), ",")) })
	case field.Choices != nil:
		row := form.NewOneOf(field.Label, field.Choices, now, o)
		if field.Proposed != nil && now == field.Proposed() { // another was chosen before, and stands
			row.Propose(field.Proposed)
		}
		f.form.Add(row, field.Hidden)
		f.read = append(f.read, func() {
			row.Follow()
			f.q.Form.To.Put(field.Key, row.Chosen())
		})
	default:
		row := form.NewText(field.Label, now, field.Limit, field.Check, o).Hint(field.Hint)
		if f.form.Add(row, field.Hidden); field.Key == order.Lot {
			f.lot = row
		}
		f.read = append(f.read, func() { f.q.Form.To.Put(field.Key, row.Content()) })
	}
}

// Press hands a key to the form; what stands in its rows is in the answers after it.
func (f *fields) Press(p keys.Press) tea.Cmd {
	only := binding(f.q.Form.Only)
	if !f.form.Typing() && f.q.Form.Only.Key != "" && only.Is(p) {
		return f.save()
	}
	if f.furtherKeys() {
		if cmd, did := f.s.more(p); did {
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
	case f.q.Form.Only.Key != "":
		f.s.say(fmt.Sprintf("Enter is not enough. Press %s: %s.", only.Shown(), only.Does))
		return nil
	}
	return f.save()
}

// furtherKeys says that the keys beside the form's own work now.
func (f *fields) furtherKeys() bool { return f.q.Form.Numbers || !f.form.Typing() }

// save does what the form is for, once every line is good.
func (f *fields) save() tea.Cmd {
	if !f.form.Check() {
		f.s.say("Not saved yet: check the line under the cursor.")
		return nil
	}
	return f.s.do(f.q.Form.Done())
}

// Lines is the head and the form.
func (f *fields) Lines(size layout.Size) []string {
	head := f.s.texts(f.q.Head, size.W)
	if most := size.H - 5; len(head) > max(most, 0) { // leave lines for the form
		if head = head[:max(most, 0)]; len(head) > 0 {
			head[len(head)-1] = layout.Cut(head[len(head)-1]+" ..", size.W)
		}
	}
	return append(head, f.form.Lines(layout.Size{W: size.W, H: size.H - len(head)})...)
}

// Keys are the form's.
func (f *fields) Keys() []keys.Binding {
	switch {
	case !f.furtherKeys():
		return f.form.Keys()
	case f.q.Form.Only.Key != "":
		return append([]keys.Binding{binding(f.q.Form.Only), keys.Up()}, bindings(f.q.More)...)
	}
	return append(f.form.Keys(), bindings(f.q.More)...)
}

// Typing is the form's.
func (f *fields) Typing() bool { return f.form.Typing() }

// Escape uses nothing.
func (f *fields) Escape() bool { return false }

// Light of a form is its own; the keys beside it answer.
func (f *fields) Light(p keys.Press) bool {
	for _, o := range f.q.More {
		if f.furtherKeys() && binding(o).Is(p) {
			return false
		}
	}
	return f.form.Light(p) && (f.form.Typing() || keys.Digit().Is(p))
}

// Keep keeps the form, and what it has put into the answers.
func (f *fields) Keep() func() {
	back := f.form.Keep()
	return func() {
		back()
		for _, read := range f.read {
			read()
		}
	}
}
