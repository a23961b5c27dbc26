// Package home is the first screen: visits that are not finished, then every
// horse, with a search.
package home

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

// row is a line of the screen: a visit to go on with, or a horse.
type row struct {
	found  exam.Found
	visit  exam.VisitID // of a visit that is not finished
	other  bool         // another laptop has that visit
	needle bool         // a needle went in there, and nothing says what happened to it
	after  int          // the injection after which an observation is to be begun; 0 for none
	text   string       // how far that visit is
	end    string       // stands behind the text, also where that is cut
	held   *held        // by a colleague; nil for a visit that goes on here
	search string       // what the search looks at, in lower case
	at     time.Time    // of a check that is due at an hour; zero for none
}

// line is the row of a visit in a width: its end stands whole, or as half of the line, and the text before it is cut.
func (r *row) line(width int) string {
	end := layout.Cut(r.end, width/2)
	return layout.Cut(r.text, width-ansi.StringWidth(end)) + end
}

type screen struct {
	base.Screen
	checks  []*row    // horses that are looked at again at an hour, the earliest first
	looked  time.Time // when the clock was looked at last
	run     int       // of the clock; what an earlier run asked for does nothing
	open    []*row    // every visit not finished, newest first
	horses  []*row    // every horse, those that the veterinarian has to be told of first, then by name
	byName  []*row    // the same by name alone
	shown   []*row    // what the search leaves: needles, observations to begin, what is due, visits not finished, checks to come, then horses
	opens   int       // how many of shown stand above the horses
	cursor  list.List
	top     list.List
	bottom  list.List
	finding bool
	find    list.Find
	round   round.Round          // today's; empty until it is read
	told    map[exam.HorseID]int // horses that the veterinarian has to be told of, the higher the sooner
	chip    string               // a chip that was read and that no horse has, until the next key
	far     base.Far             // how far the reading of the round is
	refused string               // a practice's own schedule that was refused
	shared  nav.SharedMsg
	// unsettled is how many visits, horses and settings are to be settled.
	unsettled int
	// arrived is how many visits came in from other laptops since yesterday.
	arrived int
	newest  time.Time // when the newest visit was opened
}

// New makes the home screen.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string { return "loosebox" }
func (s *screen) Typing() bool  { return s.finding }

// Typed is the search.
func (s *screen) Typed() keys.Light {
	if !s.finding {
		return nil
	}
	return finder{&s.find, s}
}

// Escape closes the search.
func (s *screen) Escape() bool {
	if !s.finding && s.find.Text == "" {
		return false
	}
	s.finding, s.find = false, list.Find{}
	s.filter()
	return true
}

func (s *screen) take(m lists) tea.Cmd {
	at, had := s.here()
	s.open, s.byName, s.unsettled, s.arrived, s.newest = m.open, m.horses, m.unsettled, m.arrived, m.newest
	if s.Deps.Unsent != nil { // what was written since the last exchange waits too
		s.shared.Waiting = m.unsent
	}
	s.urgentFirst()
	s.filter()
	if had {
		s.goTo(at)
	}
	return s.loadRound()
}

// goTo puts the cursor on the row of the same horse and visit.
func (s *screen) goTo(at *row) {
	for i, r := range s.shown {
		if r.found.Horse.ID == at.found.Horse.ID && r.visit == at.visit && r.after == at.after && r.at.IsZero() == at.at.IsZero() {
			s.cursor.Cursor = i
		}
	}
}

// here is the row under the cursor.
func (s *screen) here() (*row, bool) {
	if s.cursor.Cursor >= len(s.shown) {
		return &row{}, false
	}
	return s.shown[s.cursor.Cursor], true
}

// filter leaves the rows that hold every word of the search.
func (s *screen) filter() {
	words := s.find.Words()
	s.shown = make([]*row, 0, len(s.checks)+len(s.open)+len(s.horses))
	coming, open := matching(s.checks, words), matching(s.open, words)
	take := func(these func(r *row) bool) {
		for _, r := range open {
			if these(r) {
				s.shown = append(s.shown, r)
			}
		}
	}
	take(func(r *row) bool { return r.needle })
	take(func(r *row) bool { return r.after > 0 })
	for now := s.Deps.Now(); len(coming) > 0 && coming[0].due(now); coming = coming[1:] {
		s.shown = append(s.shown, coming[0])
	}
	take(func(r *row) bool { return !r.needle && r.after == 0 })
	s.shown = append(s.shown, coming...)
	s.opens = len(s.shown)
	s.shown = append(s.shown, matching(s.horses, words)...)
	s.cursor.Keep(len(s.shown))
}

func matching(rows []*row, words []string) []*row {
	if len(words) == 0 {
		return rows
	}
	var out []*row
	for _, r := range rows {
		if list.HoldsAll(r.search, words) {
			out = append(out, r)
		}
	}
	return out
}

func (s *screen) lookAgain() {
	s.cursor.Cursor = 0
	s.filter()
	if len(s.shown) > s.opens {
		s.cursor.Cursor = s.opens // a horse is looked for, not a visit
	}
}

// Update takes the clock beside what every screen takes.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case clockMsg:
		return s.clock(m)
	case nav.SharedMsg:
		s.shared = m
		if m.Came == 0 {
			return nil
		}
		return s.load() // the cursor stays on its horse
	}
	return s.Screen.Update(msg)
}
