// Package due is the screen of what is due: for one horse with the reasons and the schedule, or for every horse, the most
// urgent first. It makes no proposal: the veterinarian's plan and the label override what it shows.
package due

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

// row is a line of the list with what is known of it.
type row struct {
	status, what, when, given string
	style                     style
	more                      []string     // shown below the list while the cursor is here
	source                    []string     // the same, after the key for it
	horse                     exam.HorseID // of a line that stands for a horse
	visit                     exam.VisitID // where the dose was given or the recheck set; empty for none
}

// style is the style of a row by its urgency.
type style int

const (
	plain style = iota
	pressing
	soon
	asking
)

type screen struct {
	base.Screen
	id exam.HorseID // empty for every horse
	shown
	urgent int // rows that are overdue
	now    int // rows that are due
	cursor list.List
	source bool

	finding bool
	find    list.Find
	all     []row // every row; rows are those that the search leaves
}

// New makes the screen of the horse in the address, or of every horse.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	switch {
	case s.id == "":
		return "Due"
	case !s.Loaded:
		return "Due"
	}
	return "Due · " + notation.CleanLine(s.horse.Name, 40)
}

// Right is the number of overdue and due rows.
func (s *screen) Right() string {
	switch {
	case !s.Loaded:
		return ""
	case s.urgent+s.now == 0:
		return "nothing due"
	case s.id == "":
		return fmt.Sprintf("%d %s, %d %s", s.urgent, due.Overdue, s.now, due.Due)
	}
	return fmt.Sprintf("%s; %d %s, %d %s", s.group, s.urgent, due.Overdue, s.now, due.Due)
}

func (s *screen) Cautions() []string { return s.horse.Cautions }

// Typing says that letters are the search.
func (s *screen) Typing() bool { return s.finding }

// Escape closes the source, then the search.
func (s *screen) Escape() bool {
	if s.source {
		s.source = false
		return true
	}
	was := s.finding || s.find.Text != ""
	s.finding, s.find = false, list.Find{}
	s.filter()
	return was
}

// filter leaves the rows that hold every word of the search.
func (s *screen) filter() {
	words := s.find.Words()
	s.rows = make([]row, 0, len(s.all))
	for _, r := range s.all {
		if list.HoldsAll(strings.ToLower(strings.Join([]string{r.status, r.what, r.when, r.given}, "\n")), words) {
			s.rows = append(s.rows, r)
		}
	}
	s.cursor.Keep(len(s.rows))
}

func (s *screen) here() (row, bool) {
	if s.cursor.Cursor >= len(s.rows) {
		return row{}, false
	}
	return s.rows[s.cursor.Cursor], true
}

func (s *screen) Keys() []keys.Binding {
	at, ok := s.here()
	open, source := keys.Choose(), keys.Source().With("source", "show the schedule and source of this line")
	switch {
	case !ok:
		open = open.OffIf("nothing is under the cursor")
	case at.horse != "":
		open = open.With("open", "see what is due for this horse, and why")
	case at.visit == "":
		open = open.OffIf("no visit stands behind this line")
	default:
		open = open.With("open", "open the visit of the last dose or of this follow-up")
	}
	if !ok || len(at.source) == 0 {
		source = source.OffIf("this line is not from a schedule")
	}
	if s.finding {
		return []keys.Binding{keys.Up(), keys.Down(), open, keys.TakeBack().With("erase", "remove the last letter of the search")}
	}
	return []keys.Binding{
		keys.Up(), keys.Down(), open, source, keys.FindHorse().With("find", "leave only the lines that hold what you type: a horse, a disease, overdue"), keys.PageDown(),
	}
}

func (s *screen) take(shown shown) tea.Cmd {
	s.shown, s.all = shown, shown.rows
	s.urgent, s.now = 0, 0
	for _, r := range s.rows {
		switch r.style {
		case pressing:
			s.urgent++
		case soon:
			s.now++
		case plain, asking:
		}
	}
	s.filter()
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if s.cursor.Move(p, len(s.rows)) {
		return nil
	}
	at, ok := s.here()
	switch {
	case s.finding && !keys.Choose().Is(p):
		if s.find.Press(p) {
			s.source = false
			s.filter()
		}
	case keys.FindHorse().Is(p):
		s.finding = true
	case !ok:
	case keys.Source().Is(p) && len(at.source) > 0:
		s.source = !s.source
	case !keys.Choose().Is(p):
	case at.horse != "":
		return nav.Go(nav.Address{Screen: nav.Due, Horse: at.horse})
	case at.visit != "":
		return nav.Go(nav.Address{Screen: nav.Review, Horse: s.id, Visit: at.visit})
	}
	return nil
}
