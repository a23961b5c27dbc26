// Package round is the screen of a day's round: the horses to see in their order,
// each with its reason; who is picked, left out, seen or handed over.
package round

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	day    string
	today  string
	loaded bool // the round of this day
	round  round.Round
	cursor list.List
	first  int // line at the top
	source bool

	find   *finder  // not nil while a horse is looked for
	ask    *ask     // not nil while something is asked
	writes int      // how many were sent: a round read before one of them is read again
	far    base.Far // how far the reading is
}

// New makes the screen of today's round.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	today := round.Today(deps.Now())
	s := &screen{day: today, today: today}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	when := map[bool]string{true: ", today", false: ""}[s.day == s.today]
	return "Round of " + notation.Shown(s.day) + when
}

// Right is how far the day is.
func (s *screen) Right() string {
	switch {
	case s.Saving():
		return "saving .."
	case !s.loaded:
		return ""
	}
	n := s.round.Count()
	text := fmt.Sprintf("%d of %d done", n.Done, n.Total)
	if n.Handed > 0 {
		text += fmt.Sprintf(", %d reassigned", n.Handed)
	}
	return text
}

func (s *screen) Typing() bool { return s.find != nil || s.ask != nil && s.ask.typing() }

// Typed is what is asked, or the search.
func (s *screen) Typed() keys.Light {
	if s.Saving() {
		return nil
	}
	return s.typedOn()
}

// Escape closes what is asked, then the search, then the source.
func (s *screen) Escape() bool {
	switch {
	case s.Saving():
		return false // its write goes on and is waited for
	case s.ask != nil:
		s.ask = nil
	case s.find != nil:
		s.find = nil
	case s.source:
		s.source = false
	default:
		return false
	}
	return true
}

// here is the call under the cursor.
func (s *screen) here() (round.Call, bool) {
	if s.cursor.Cursor >= len(s.round.Calls) {
		return round.Call{}, false
	}
	return s.round.Calls[s.cursor.Cursor], true
}

// Update reads the round of the day that it is now.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(nav.ShownMsg); ok {
		if before := s.today; s.turnDay() && s.day == before {
			s.day, s.loaded = s.today, false // the day has changed
		}
	}
	return s.Screen.Update(msg)
}

// turnDay reads the clock: a program that stays open over midnight must not write
// into the round of yesterday. True where the day has turned.
func (s *screen) turnDay() bool {
	before := s.today
	s.today = round.Today(s.Deps.Now())
	return s.today != before
}

// show takes a round and keeps the cursor on its horse.
func (s *screen) show(r round.Round) {
	at, had := s.here()
	s.loaded, s.round = true, r
	if had {
		s.goTo(at.Horse.ID)
	}
	s.cursor.Keep(len(r.Calls))
}

func (s *screen) goTo(id exam.HorseID) {
	for i, c := range s.round.Calls {
		if c.Horse.ID == id {
			s.cursor.Cursor = i
		}
	}
}
