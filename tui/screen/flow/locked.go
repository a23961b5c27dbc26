package flow

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Locked shows why nothing can be entered and the way on. Nothing can be typed.
type Locked struct {
	s    *Screen
	why  string
	more []Extra
}

// NewLocked makes the part from the reason of the gate. The extra keys write down
// what happened, which can always be done.
func NewLocked(s *Screen, why error, more ...Extra) *Locked {
	return &Locked{s: s, why: why.Error(), more: more}
}

// Extra is one more key of a part.
type Extra struct {
	Binding keys.Binding
	Do      func() tea.Cmd
}

func pressExtra(list []Extra, p keys.Press) (tea.Cmd, bool) {
	for _, e := range list {
		if e.Binding.Is(p) {
			return e.Do(), true
		}
	}
	return nil, false
}

func bindings(list []Extra) []keys.Binding {
	out := make([]keys.Binding, len(list))
	for i, e := range list {
		out[i] = e.Binding
	}
	return out
}

// Lines is the reason and the way on.
func (l *Locked) Lines(size layout.Size) []string {
	t := l.s.Deps.Theme
	out := []string{"", t.Alarm.Render("LOCKED"), ""}
	for _, line := range layout.Wrap(exam.CleanNote(l.why), size.W) {
		out = append(out, t.Strong.Render(line))
	}
	out = append(out, "")
	for _, line := range layout.Wrap("enter: to hand-off and decision of this visit. Nothing can be entered here before.", size.W) {
		out = append(out, t.Faint.Render(line))
	}
	return out
}

// Press leads to hand-off and decision.
func (l *Locked) Press(p keys.Press) tea.Cmd {
	if cmd, did := pressExtra(l.more, p); did {
		return cmd
	}
	if keys.Accept().Is(p) {
		return l.s.ToHub()
	}
	return nil
}

// Keys are enter and the extra ones.
func (l *Locked) Keys() []keys.Binding {
	return append([]keys.Binding{keys.Accept().With("after the exam", "go to hand-off and decision of this visit")}, bindings(l.more)...)
}

// Typing is never true.
func (l *Locked) Typing() bool { return false }

// Escape leaves.
func (l *Locked) Escape() bool { return false }
