// Package progress is the screen of rehearsals over time: one person's, as a table and a plot, or several people's side by
// side for somebody who teaches.
package progress

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/notation"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
	"loosebox/tui/screen/marks"
)

type screen struct {
	base.Screen
	read
	measures []progress.Measure
	measure  int
	routine  string // only rehearsals of this one; empty for all
	sums     map[string]sum

	everyone bool      // people side by side
	from     bool      // the person was opened from among everybody
	who      string    // whose rehearsals are shown
	people   list.List // into all
	rows     list.List // into the person's rehearsals
}

// New makes the progress of the person of the settings.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{measures: progress.Measures(), who: deps.Settings.Person}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

// read is every rehearsal that can be marked, marked, and those that cannot.
type read struct {
	all []progress.Person
	not []progress.Unmarked
}

func (s *screen) load() tea.Cmd {
	deps := s.Deps
	return base.Read(s, func() (read, error) {
		if deps.Rehearsals == nil {
			return read{}, nil
		}
		points, not, err := marks.Reader(deps).Read(deps.Rehearsals)
		return read{progress.People(points), not}, err
	}, s.take)
}

func (s *screen) take(r read) tea.Cmd {
	first := !s.Loaded
	s.read, s.sums = r, nil
	at := slices.IndexFunc(s.all, func(p progress.Person) bool { return p.Is(s.who) })
	if at >= 0 {
		s.people.Cursor = at
	}
	if first && at < 0 {
		s.everyone = true
	}
	s.people.Keep(len(s.all))
	return nil
}

// person is the one who is shown, with the rehearsals of the chosen routine; false where there is none.
func (s *screen) person() (progress.Person, bool) {
	if s.people.Cursor >= len(s.all) {
		return progress.Person{}, false
	}
	return s.all[s.people.Cursor].With(s.routine), true
}

// routines are those that anybody rehearsed, in the order of the program.
func (s *screen) routines() []string {
	seen := map[string]bool{}
	for _, p := range s.all {
		for _, point := range p.Points {
			seen[point.Routine] = true
		}
	}
	var out []string
	for _, r := range s.Deps.Routines {
		if seen[r.Name] {
			out = append(out, r.Name)
		}
	}
	slices.Sort(out)
	return out
}

func (s *screen) Title() string {
	p, ok := s.person()
	if s.everyone || !ok {
		return "Progress · everybody"
	}
	return "Progress · " + notation.CleanLine(p.Name, 40)
}

func (s *screen) Right() string {
	if s.Deps.Patient == nil {
		return nav.RehearsalSign
	}
	return ""
}

// Escape goes from a person back to everybody, where the person was opened from there.
func (s *screen) Escape() bool {
	was := s.from && !s.everyone
	if was {
		s.everyone, s.from = true, false
	}
	return was
}

func (s *screen) Keys() []keys.Binding {
	none, one := "", ""
	if len(s.all) == 0 {
		none = "there is no rehearsal that is marked"
	}
	if len(s.routines()) < 2 {
		one = "only one routine was rehearsed"
	}
	choose := keys.Choose().With("open", "open the marks of the rehearsal under the cursor")
	if s.everyone {
		choose = keys.Choose().With("open", "see the rehearsals of the person under the cursor")
	}
	everyone := keys.Everybody()
	if s.everyone {
		everyone = everyone.With("", "").OffIf("everybody is shown already")
	}
	return []keys.Binding{
		keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Left().With("measure", "go to another measure: it is drawn below").OffIf(none), keys.Right().OffIf(none),
		choose.OffIf(none), everyone.OffIf(none), keys.OneRoutine().OffIf(none).OffIf(one), keys.Class(), keys.PageDown(),
	}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	person, ok := s.person()
	switch {
	case keys.Class().Is(p):
		return nav.Go(nav.Address{Screen: nav.Class})
	case !ok:
	case s.everyone && s.people.Move(p, len(s.all)):
		s.rows.Cursor = 0
	case !s.everyone && s.rows.Move(p, len(person.Points)):
	case keys.Left().Is(p):
		s.measure = max(s.measure-1, 0)
	case keys.Right().Is(p):
		s.measure = min(s.measure+1, len(s.measures)-1)
	case keys.Everybody().Is(p):
		s.everyone, s.from = true, false
	case keys.OneRoutine().Is(p):
		s.nextRoutine()
	case keys.Choose().Is(p):
		return s.open(person)
	}
	return nil
}

func (s *screen) open(person progress.Person) tea.Cmd {
	if s.everyone {
		s.everyone, s.from, s.who = false, true, person.Name
		return nil
	}
	s.rows.Keep(len(person.Points))
	if len(person.Points) == 0 {
		return nil
	}
	return nav.Go(nav.Address{Screen: nav.Marks, Visit: person.Points[s.rows.Cursor].Visit})
}

// nextRoutine goes from all routines to each in turn.
func (s *screen) nextRoutine() {
	names := append([]string{""}, s.routines()...)
	if len(names) < 3 {
		return
	}
	s.routine = names[(slices.Index(names, s.routine)+1)%len(names)]
	s.rows.Cursor = 0
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return layout.Cut("Marking the rehearsals ..", size.W)
	case len(s.all) == 0:
		return s.drawNone(size)
	case s.everyone:
		return s.drawEverybody(size)
	}
	return s.drawPerson(size)
}
