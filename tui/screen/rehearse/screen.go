// Package rehearse is the screen on which a rehearsal is chosen and begun, and the nav.Patient of its simulated horse. The
// exam itself is on the exam screen, with the same steps, widgets and keys.
package rehearse

import (
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	signed bool // the frame shows the sign of the rehearsal that this one follows
	play   nav.Play
	first  string // routine to offer
	choices

	begin   *form.OneOf // nil where no rehearsal is open
	why     *form.Text  // why one is dropped
	dropped string      // what was dropped just now
	person  *form.Text
	which   *form.OneOf
	routine *form.OneOf
	modes   *form.Several
	seed    *form.Text

	door *door // not nil once the rehearsal is begun
}

// New makes the screen on which a rehearsal is begun. Play and Routine of the
// address stand in the form when it opens.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{first: to.Routine}
	s.Deps, s.Load, s.Store = deps, s.load, s.start
	if before, ok := deps.Patient.(*patient); ok { // another one, from its marks
		s.Deps, s.signed = before.base, true
	}
	if to.Play != nil {
		s.play = *to.Play
	}
	return s
}

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
func (s *screen) Escape() bool  { return s.Saving() }

func (s *screen) Cautions() []string {
	if s.door != nil {
		return s.door.horse.Animal.Cautions
	}
	return nil
}

func (s *screen) View(size layout.Size) string {
	lines := s.lines(size)
	if s.Form == nil {
		return form.Clip(lines, size)
	}
	return s.DrawUnder(size, lines)
}

// lines are what stands above the form.
func (s *screen) lines(size layout.Size) []string {
	switch {
	case s.Deps.Rehearsals == nil:
		return layout.Wrap("This record holds no rehearsals, so none can begin here. Real exams are not affected.", size.W)
	case !s.Loaded:
		return []string{"Reading the cases .."}
	case s.door != nil:
		return s.drawDoor(size)
	}
	t := s.Deps.Theme
	var lines []string
	lines = append(lines, s.Faint("A simulated horse on the same screens. Nothing here is real; it is marked at the end.", size.W)...)
	if s.dropped != "" {
		lines = append(lines, t.Strong.Render(layout.Cut(s.dropped, size.W)))
	}
	for _, problem := range s.wrong {
		for i, line := range layout.Wrap(t.Sign.NotDone+" "+notation.CleanLine(problem, 0), size.W) {
			if i < 3 {
				lines = append(lines, t.Error.Render(line))
			}
		}
	}
	lines = lines[:min(len(lines), max(size.H/3, 1))]
	lines = append(lines, "")
	if s.Saving() {
		lines = append(lines, t.Faint.Render("fetching the horse .."))
	}
	return lines
}
