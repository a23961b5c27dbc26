package entry

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// marks is the field of several choices out of a list.
type marks struct {
	still
	step exam.Step
	o    Options
	list list
	set  map[string]bool
	was  map[string]bool // before the last mark, for the repeats of a held key
	key  held
	said error
}

func newMarks(step exam.Step, o Options) *marks {
	m := &marks{step: step, o: o, list: list{choices: step.Choices}, set: map[string]bool{}}
	m.list.before = m.box
	if o.Before != nil {
		for _, w := range o.Before.Words {
			m.set[w] = true
		}
	}
	return m
}

func (m *marks) Keys() []keys.Binding {
	return []keys.Binding{keys.Mark(), keys.Digit(), keys.Up(), keys.Down(), keys.Accept()}
}

func (m *marks) Press(p keys.Press) (KeyResult, tea.Cmd) {
	switch {
	case keys.Mark().Is(p):
		m.said = nil
		switch m.key.press(p.At) {
		case fresh:
			m.toggle()
		case holding:
			m.set = m.was
		case repeat:
		}
		return Taken, nil
	case keys.Accept().Is(p):
		if _, m.said = m.Value(); m.said != nil {
			return Taken, nil
		}
		return Accepted, nil
	case m.list.press(p):
		m.said, m.key = nil, held{}
		return Taken, nil
	}
	return Ignored, nil
}

// toggle sets or clears the mark under the cursor. A mark that stands alone
// clears the others, and any other mark clears it.
func (m *marks) toggle() {
	c, ok := m.list.chosen()
	if !ok {
		return
	}
	m.was = m.set
	next := map[string]bool{}
	for k := range m.set {
		if k != c.Key && !m.alone(c.Key) && !m.alone(k) {
			next[k] = true
		}
	}
	if m.set[c.Key] { // clearing one mark brings none back and takes no other
		for k := range m.set {
			next[k] = true
		}
		delete(next, c.Key)
	} else {
		next[c.Key] = true
	}
	m.set = next
}

func (m *marks) alone(key string) bool {
	for _, k := range m.step.Alone {
		if k == key {
			return true
		}
	}
	return false
}

func (m *marks) box(i int) string {
	if m.set[m.step.Choices[i].Key] {
		return "[x]"
	}
	return "[ ]"
}

func (m *marks) Value() (exam.Value, error) {
	var chosen []string
	for _, c := range m.step.Choices {
		if m.set[c.Key] {
			chosen = append(chosen, c.Key)
		}
	}
	if len(chosen) == 0 {
		return exam.Value{}, &notation.Refusal{Why: "nothing is marked yet: space marks the line under the cursor"}
	}
	return m.step.ChoiceValue(chosen...)
}

func (m *marks) View(size layout.Size) []string {
	under := sentence(m.o.Theme, m.said, size.W)
	under = append(under, stands(m.o, m.step, size.W)...)
	room := layout.Size{W: size.W, H: size.H - len(under)}
	return fit(append(m.list.view(m.o.Theme, room), under...), size)
}
