// Package class is the screen of a class that took a set exam: the results, the faults by step, and the faults by person. It
// reads the rehearsals of this record; the command loosebox class reads several records.
package class

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse/class"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
	"loosebox/tui/screen/marks"
)

// view is one of the three tables.
type view int

const (
	byPerson view = iota
	byStep
	byFault
	views
)

func (v view) words() string { return [views]string{"by person", "by step", "by fault"}[v] }

type screen struct {
	base.Screen
	read
	at   int // into the exams
	view view
	rows [views]list.List
}

// read is every exam that was taken here, and what cannot be marked.
type read struct {
	all []class.Results
	not []progress.Unmarked
}

// New makes the classes of this record.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) load() tea.Cmd {
	deps := s.Deps
	return base.Read(s, func() (r read, err error) {
		if deps.Rehearsals == nil {
			return r, nil
		}
		r.all, r.not, err = class.Gather([]exam.Store{deps.Rehearsals}, marks.Reader(deps), deps.Steps)
		return r, err
	}, func(r read) tea.Cmd {
		s.read, s.at = r, max(min(s.at, len(r.all)-1), 0)
		return nil
	})
}

func (s *screen) now() (class.Results, bool) {
	if s.at >= len(s.all) {
		return class.Results{}, false
	}
	return s.all[s.at], true
}

// hidden says that the exam keeps its marks back now: then only who took it is shown.
func (s *screen) hidden() bool {
	c, ok := s.now()
	return ok && !c.Set.MaySee(s.Deps.Now())
}

func (s *screen) count() int {
	c, _ := s.now()
	switch {
	case s.view == byStep && !s.hidden():
		return len(c.Places())
	case s.view == byFault && !s.hidden():
		return len(c.Faults())
	}
	return len(c.Students)
}

func (s *screen) Title() string {
	c, ok := s.now()
	if !ok {
		return "Class"
	}
	return "Class · " + notation.CleanLine(c.Set.Title, 40)
}

func (s *screen) Right() string { return nav.RehearsalSign }

func (s *screen) Keys() []keys.Binding {
	none, one := "", ""
	if len(s.all) == 0 {
		none = "nobody took a set exam in this record"
	}
	if len(s.all) < 2 {
		one = "only one exam was taken"
	}
	choose := keys.Choose().With("open", "open the marks of the student under the cursor").OffIf(none)
	hidden := ""
	if s.hidden() {
		hidden = "this exam keeps its marks back"
	}
	if s.view != byPerson {
		choose = choose.OffIf("marks are opened from the list by person")
	}
	return []keys.Binding{
		keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Left().With("table", "go to another table: by person, by step, by fault").OffIf(none).OffIf(hidden), keys.Right().OffIf(none).OffIf(hidden),
		choose.OffIf(hidden), keys.OneRoutine().With("next exam", "go to the next exam that was taken here").OffIf(none).OffIf(one), keys.PageDown(),
	}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	c, ok := s.now()
	switch {
	case !ok:
	case s.rows[s.view].Move(p, s.count()):
	case keys.OneRoutine().Is(p):
		s.at, s.view, s.rows = (s.at+1)%len(s.all), byPerson, [views]list.List{}
	case s.hidden():
	case keys.Left().Is(p):
		s.view = max(s.view-1, byPerson)
	case keys.Right().Is(p):
		s.view = min(s.view+1, byFault)
	case keys.Choose().Is(p) && s.view == byPerson:
		return s.open(c.Students[s.rows[byPerson].Cursor])
	}
	return nil
}

// open shows the marks of the attempt that counts, or of the last one.
func (s *screen) open(st class.Student) tea.Cmd {
	m := st.Attempts[len(st.Attempts)-1].Marks
	if st.Best != nil {
		m = st.Best.Marks
	}
	return nav.Go(nav.Address{Screen: nav.Marks, Visit: m.Visit})
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return layout.Cut("Marking the class ..", size.W)
	}
	if c, ok := s.now(); ok {
		return s.draw(c, size)
	}
	return s.none(size)
}

func (s *screen) unmarked() string {
	if len(s.not) == 0 {
		return ""
	}
	return fmt.Sprintf(" %s cannot be marked.", notation.Counted(len(s.not), "rehearsal"))
}
