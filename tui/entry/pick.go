package entry

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// pick is the widget of one choice from a list. It does not show how a choice is judged, so that this does not influence
// the answer.
type pick struct {
	still
	step exam.Step
	o    Options
	list list
	said error
}

func newPick(step exam.Step, o Options) *pick {
	p := &pick{step: step, o: o, list: list{choices: step.Choices, cursor: -1}}
	if o.Before != nil && len(o.Before.Words) > 0 {
		p.list.put(o.Before.Words[0])
	}
	return p
}

func (f *pick) Keys() []keys.Binding {
	return []keys.Binding{keys.Digit(), keys.Up(), keys.Down(), keys.Accept()}
}

func (f *pick) Press(p keys.Press) (KeyResult, tea.Cmd) {
	if keys.Accept().Is(p) {
		if _, f.said = f.Value(); f.said != nil {
			return Taken, nil
		}
		return Accepted, nil
	}
	if f.list.press(p) {
		f.said = nil
		return Taken, nil
	}
	return Ignored, nil
}

func (f *pick) Value() (exam.Value, error) {
	c, ok := f.list.chosen()
	if !ok {
		return exam.Value{}, &notation.Refusal{Why: "nothing is chosen yet: press the number of a line"}
	}
	return f.step.ChoiceValue(c.Key)
}

func (f *pick) View(size layout.Size) []string {
	under := sentence(f.o.Theme, f.said, size.W)
	under = append(under, stands(f.o, f.step, size.W)...)
	room := layout.Size{W: size.W, H: size.H - len(under)}
	return fit(append(f.list.view(f.o.Theme, room), under...), size)
}
