// Package tally is the tap screen alone: a quick count without a horse, of which
// nothing is stored.
package tally

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

type screen struct {
	deps  *nav.Deps
	step  exam.Step
	field entry.Field
	done  []string // what was counted before, newest first
	leave bool
	said  string
}

// New makes the tap screen for heart or breath.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{deps: deps}
	for _, step := range deps.Steps.All() {
		if step.Kind == exam.KindCount && step.Heard == to.Heard {
			s.step = step
		}
	}
	s.again()
	return s
}

func (s *screen) again() {
	s.leave = false
	s.field = entry.New(s.step, entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings, Person: s.deps.Settings.Person, Bell: s.deps.Ring()})
}

func (s *screen) Init() tea.Cmd      { return s.field.Init() }
func (s *screen) Title() string      { return "Count: " + s.step.Name }
func (s *screen) Right() string      { return "nothing is stored" }
func (s *screen) Cautions() []string { return nil }
func (s *screen) Typing() bool       { return s.field.Typing() }

// Escape asks once before a running count is left.
func (s *screen) Escape() bool {
	if s.field.Busy() && !s.leave {
		s.leave = true
		s.said = "A count is running. esc again throws it away."
		return true
	}
	s.again()
	s.said = ""
	return true
}

func (s *screen) Keys() []keys.Binding { return s.field.Keys() }

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	p, ok := msg.(keys.Press)
	if !ok {
		return s.field.Update(msg)
	}
	s.said, s.leave = "", false
	result, cmd := s.field.Press(p)
	if result != entry.Accepted {
		return cmd
	}
	v, err := s.field.Value()
	if err != nil {
		s.said = err.Error()
		return cmd
	}
	text := v.Show(s.step)
	if v.Count != nil && v.Count.HalfWidth > 0 {
		text += fmt.Sprintf(" +/- %s while counted", exam.FormatNumber(v.Count.HalfWidth, 2))
	}
	s.done = append([]string{text}, s.done...)
	s.again()
	return tea.Batch(cmd, s.field.Init())
}

func (s *screen) View(size layout.Size) string {
	room := size
	var foot []string
	if s.said != "" {
		foot = append(foot, layout.Wrap(s.said, size.W)...)
	}
	for i, text := range s.done {
		if i == 3 {
			break
		}
		foot = append(foot, layout.Cut("counted: "+text, size.W))
	}
	room.H -= len(foot)
	lines := layout.Fit(s.field.View(room), room)
	return strings.Join(append(lines, foot...), "\n")
}
