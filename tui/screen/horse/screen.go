// Package horse is the screen of one horse: who it is, how it is handled, its
// class today, and its visits.
package horse

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	id exam.HorseID
	known
	cursor list.List
}

// New makes the screen of the horse in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Horse"
	}
	return notation.CleanLine(s.horse.Name, 0)
}

func (s *screen) Keys() []keys.Binding {
	begin, look := keys.Begin(), keys.Choose().With("open", "open the review of the visit under the cursor")
	if s.own != "" {
		begin = begin.With("go on", "go on with the exam that is not finished")
	}
	none := ""
	if len(s.visits) == 0 {
		none = "this horse has no visit yet"
	} else if s.visits[s.cursor.Cursor].open {
		look = look.With("go on", "go on with the visit under the cursor")
	}
	return []keys.Binding{
		begin, look.OffIf(none), keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Compare().OffIf(none), keys.After().OffIf(none), keys.Due(), keys.Dose(), keys.Edit(), keys.Episode().With("", ""), keys.QuickCount(), keys.Sums(), keys.Joined(), keys.PageDown(),
	}
}

func (s *screen) take(k known) tea.Cmd {
	s.known = k
	s.cursor.Keep(len(s.visits))
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded || s.cursor.Move(p, len(s.visits)) {
		return nil
	}
	to := nav.Address{Horse: s.id}
	switch {
	case keys.Begin().Is(p):
		to.Screen, to.Visit = nav.Start, s.own
		if to.Visit != "" {
			to.Screen = nav.Exam
		}
	case keys.Dose().Is(p):
		to.Screen = nav.Dose
	case keys.Edit().Is(p):
		to.Screen = nav.NewForm
	case keys.Episode().Is(p):
		to.Screen = nav.Episode
	case keys.QuickCount().Is(p):
		to = nav.Address{Screen: nav.Tally, Heard: "heart"}
	case keys.Sums().Is(p):
		to.Screen = nav.Sums
	case keys.Joined().Is(p):
		to.Screen = nav.Join
	case keys.Due().Is(p):
		to.Screen = nav.Due
	case len(s.visits) == 0:
		return nil
	case keys.Choose().Is(p):
		at := s.visits[s.cursor.Cursor]
		to.Screen, to.Visit = nav.Review, at.id
		if at.open {
			to.Screen = nav.Exam
		}
	case keys.Compare().Is(p):
		to.Screen = nav.Compare
	case keys.After().Is(p):
		to.Screen, to.Visit = nav.After, s.visits[s.cursor.Cursor].id
	default:
		return nil
	}
	return nav.Go(to)
}
