// Package compare is the screen that sets a horse's visits side by side: visits
// as columns, newest first, findings as rows, the ranges at the side.
package compare

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
	"loosebox/tui/screen/source"
)

// mostColumns is how many visits are set side by side, and keptVisits how many
// more are read for the own range of the oldest of them.
const (
	mostColumns = 40
	keptVisits  = 20
)

type screen struct {
	base.Screen
	id   exam.HorseID
	from nav.Address // the visit and place to begin at

	read
	rows   list.List
	column int
	first  int // column at the left
	origin source.Panel
	detail detail

	shown   []int // rows of the table in their order on the screen
	out     int   // how many of them stand out
	every   bool  // those that are the same as before are drawn too
	top     int   // of the lines in sight
	longest int   // finding in words
}

// New makes the comparison of the horse in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, from: to}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Comparison"
	}
	return "Comparison · " + notation.CleanLine(s.table.Horse.Name, 40)
}

// Cautions are those of the horse as it was known at the newest visit.
func (s *screen) Cautions() []string { return base.OneLine(s.table.Horse.Cautions) }

// Escape closes the source.
func (s *screen) Escape() bool { return s.origin.Close() }

func (s *screen) Keys() []keys.Binding {
	if s.origin.Open() {
		return s.origin.Keys()
	}
	none := ""
	if len(s.table.Rows) == 0 {
		none = "there is no finding to show"
	}
	single := none
	if len(s.table.Columns) < 2 {
		single = "there is only one visit"
	}
	return []keys.Binding{
		keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Left().With("visit", "go to a newer or an older visit").OffIf(single), keys.Right().OffIf(single),
		keys.Choose().With("trend", "show the finding under the cursor over time").OffIf(none), s.everyKey(), keys.Source().OffIf(none), keys.PageDown(),
	}
}

// everyKey shows or hides what is the same as before.
func (s *screen) everyKey() keys.Binding {
	b := keys.EveryRow()
	if s.every {
		b = b.With("changes only", "")
	}
	if s.out == len(s.table.Rows) || len(s.table.Rows) < foldFrom {
		return b.OffIf("every finding is shown")
	}
	return b
}

// take shows what was read, the cursor where it was or where the address says.
func (s *screen) take(r read) tea.Cmd {
	s.read = r
	for i, c := range s.table.Columns {
		if c.ID == s.from.Visit {
			s.column = i
		}
	}
	s.arrange()
	s.find(s.from.At)
	s.settle()
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if len(s.table.Rows) == 0 || s.origin.Press(p) {
		return nil
	}
	switch {
	case s.rows.Move(p, len(s.shown)):
	case s.everyKey().Is(p):
		s.toggle()
	case keys.Left().Is(p):
		s.column--
	case keys.Right().Is(p):
		s.column++
	case len(s.shown) == 0:
	case keys.Source().Is(p):
		s.show()
	case keys.Accept().Is(p):
		return nav.Go(nav.Address{Screen: nav.Trend, Horse: s.id, Visit: s.from.Visit, At: s.from.At})
	default:
		return nil
	}
	s.settle()
	return nil
}

// settle keeps the cursor in the table, remembers where it is for the next
// reading, and looks up what is said of the finding under it.
func (s *screen) settle() {
	s.rows.Keep(len(s.shown))
	s.column = max(min(s.column, len(s.table.Columns)-1), 0)
	row, ok := s.at()
	if !ok {
		s.detail, s.from.At = detail{}, exam.Key{}
		return
	}
	s.from.Visit, s.from.At = s.table.Columns[s.column].ID, exam.Key{Step: row.Step, Site: row.Site}
	s.detail = s.look(*row)
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the visits .."
	case len(s.table.Columns) == 0:
		return layout.Cut("This horse has no visit yet: there is nothing to compare.", size.W)
	case len(s.table.Rows) == 0:
		return layout.Cut("None of this horse's visits holds a finding yet.", size.W)
	}
	return s.draw(size)
}
