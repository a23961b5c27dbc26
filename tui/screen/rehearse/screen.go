// Package rehearse is the screen on which a rehearsal is chosen and begun, and
// the simulated horse that then stands before the exam screen. The exam itself
// is the exam screen's: the same steps, widgets and keys.
package rehearse

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	deps   *nav.Deps
	signed bool // the frame shows the sign of the rehearsal that this one follows
	play   nav.Play
	first  string // routine to offer
	loaded bool
	cases  []rehearse.Case
	wrong  []string // files that were refused
	open   []unfinished
	saving bool

	form    *form.Form
	begin   *form.Choice // nil where no rehearsal is open
	person  *form.Text
	which   *form.Choice
	routine *form.Choice
	modes   *form.Marks
	seed    *form.Text

	door *door // not nil once the rehearsal is begun
}

// New makes the screen on which a rehearsal is begun. Play and Routine of the
// address stand in the form when it opens.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{deps: deps, first: to.Routine}
	if before, ok := deps.Patient.(*patient); ok { // another one, from its marks
		s.deps, s.signed = before.base, true
	}
	if to.Play != nil {
		s.play = *to.Play
	}
	return s
}

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	switch {
	case s.door == nil:
		return "Rehearse an exam"
	case s.signed:
		return "At the door"
	}
	return nav.RehearsalSign + " · At the door"
}

func (s *screen) Right() string { return "never among real visits" }
func (s *screen) Escape() bool  { return s.saving }

func (s *screen) Cautions() []string {
	if s.door != nil {
		return s.door.horse.Animal.Cautions
	}
	return nil
}

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

func (s *screen) Typing() bool { return s.door == nil && s.form != nil && s.form.Typing() }

func (s *screen) Keys() []keys.Binding {
	switch {
	case s.door != nil:
		return s.door.form.Keys()
	case s.form != nil:
		return s.form.Keys()
	}
	return nil
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedCasesMsg:
		return s.take(m)
	case begunRehearsalMsg:
		return s.begun(m)
	case wentInMsg:
		return s.wentIn(m)
	case keys.Press:
		return s.press(m)
	}
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case s.saving:
	case s.door != nil:
		if s.door.form.Press(p) == form.Save {
			return s.goIn()
		}
	case s.form != nil:
		if s.form.Press(p) == form.Save && s.form.Check() {
			return s.start()
		}
	}
	return nil
}

func (s *screen) View(size layout.Size) string {
	lines := s.lines(size)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

func (s *screen) lines(size layout.Size) []string {
	switch {
	case s.deps.Rehearsals == nil:
		return layout.Wrap("This record keeps no rehearsals, so none can be begun here. Real exams are not touched by this.", size.W)
	case !s.loaded:
		return []string{"Reading the cases .."}
	case s.door != nil:
		return s.drawDoor(size)
	}
	t := s.deps.Theme
	var lines []string
	for _, text := range []string{
		"A simulated horse, the same screens: nothing here is real, and it is marked at the end.",
	} {
		for _, line := range layout.Wrap(text, size.W) {
			lines = append(lines, t.Faint.Render(line))
		}
	}
	for _, problem := range s.wrong {
		for i, line := range layout.Wrap("! "+exam.CleanLine(problem, 0), size.W) {
			if i < 3 {
				lines = append(lines, t.Error.Render(line))
			}
		}
	}
	lines = lines[:min(len(lines), max(size.H/3, 1))]
	lines = append(lines, "")
	if s.saving {
		lines = append(lines, t.Faint.Render("fetching the horse .."))
	}
	return append(lines, s.form.Lines(layout.Size{W: size.W, H: max(size.H-len(lines), 1)})...)
}
