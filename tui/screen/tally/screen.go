// Package tally is the tap screen alone: a quick count without a horse, of which
// nothing is stored.
package tally

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/source"
)

type screen struct {
	base.Screen
	steps  []exam.Step // that can be counted
	step   exam.Step
	field  entry.Widget
	done   []string // what was counted before, newest first
	last   *exam.Value
	origin source.Panel // where the rate comes from
	leave  bool
	begun  bool // the field took a key: esc goes back to its beginning
	said   string
}

// New makes the tap screen for heart or breath.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{Screen: base.Screen{Deps: deps}}
	for _, step := range deps.Steps.All() {
		if step.Kind != exam.KindCount {
			continue
		}
		if s.steps = append(s.steps, step); step.Heard == to.Heard {
			s.step = step
		}
	}
	s.again()
	return s
}

// other goes to the other thing that can be counted.
func (s *screen) other() tea.Cmd {
	if s.field.Busy() {
		s.said = "A count is running. enter saves it; esc twice discards it."
		return nil
	}
	at := slices.IndexFunc(s.steps, func(step exam.Step) bool { return step.ID == s.step.ID })
	s.step = s.steps[(at+1)%len(s.steps)]
	s.again()
	return s.field.Init()
}

func (s *screen) again() {
	s.leave, s.begun = false, false
	s.field = entry.New(s.step, entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings, Person: s.Deps.Settings.Person, Bell: s.Deps.Ring()})
}

func (s *screen) Init() tea.Cmd { return s.field.Init() }
func (s *screen) Title() string { return "Count · " + s.step.Name }
func (s *screen) Right() string { return "nothing is saved" }
func (s *screen) Typing() bool  { return s.field.Typing() }

// Escape asks once before a running count is left.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	if s.field.Busy() && !s.leave {
		s.leave = true
		s.said = "A count is running. esc again discards it."
		return true
	}
	begun := s.begun
	s.again()
	s.said = ""
	return begun
}

// Keys are the field's, and that for the source.
func (s *screen) Keys() []keys.Binding {
	if s.origin.Open() {
		return s.origin.Keys()
	}
	ask := keys.Source().With("source", "show how the rate and its accuracy are calculated")
	if len(s.parts()) == 0 {
		ask = ask.OffIf("nothing was counted yet")
	}
	return append(s.field.Keys(), ask, keys.Left().With("heart or breath", "count the other one: heart or breath"))
}

// parts say where the rate on the screen comes from, or the last one.
func (s *screen) parts() []explain.Section {
	if parts := entry.SourceOf(s.field); len(parts) > 0 {
		return parts
	}
	if s.last == nil {
		return nil
	}
	return []explain.Section{{Head: "Last count: " + s.done[0], Lines: explain.Count(*s.last)}}
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	p, ok := msg.(keys.Press)
	if !ok {
		return s.field.Update(msg)
	}
	if s.origin.Press(p) {
		return nil
	}
	s.said, s.leave = "", false
	result, cmd := s.field.Press(p)
	s.begun = s.begun || result == entry.Taken
	switch {
	case result == entry.Ignored && (keys.Left().Is(p) || keys.Right().Is(p)):
		return s.other()
	case result == entry.Ignored && keys.Source().Is(p):
		s.show()
		return cmd
	case result != entry.Accepted:
		return cmd
	}
	v, err := s.field.Value()
	if err != nil {
		s.said = err.Error()
		return cmd
	}
	text := v.Show(s.step)
	if v.Count != nil && v.Count.HalfWidth > 0 {
		text += fmt.Sprintf(" ± %s /min, this count", notation.FormatNumber(v.Count.HalfWidth, 1))
	}
	s.done, s.last = append([]string{text}, s.done...), &v
	s.again()
	return tea.Batch(cmd, s.field.Init())
}

// show opens the source; a running count is not covered.
func (s *screen) show() {
	switch parts := s.parts(); {
	case s.field.Busy():
		s.said = "A count is running: enter saves it, then s shows its source."
	case len(parts) > 0:
		s.origin.Show(s.step.Name, parts)
	}
}

func (s *screen) View(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
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
