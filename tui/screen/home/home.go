// Package home is the first screen: visits that are not finished, then every
// horse, with a search.
package home

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

// row is a line of the screen: a visit to go on with, or a horse.
type row struct {
	found  exam.Found
	visit  exam.VisitID // of a visit that is not finished
	text   string       // how far that visit is
	search string       // what the search looks at, in lower case
	at     time.Time    // of a check that is due at an hour; zero for none
}

type screen struct {
	base.Screen
	checks  []*row    // horses that are looked at again at an hour, the earliest first
	looked  time.Time // when the clock was looked at last
	run     int       // of the clock; what an earlier run asked for does nothing
	open    []*row    // every visit not finished, newest first
	horses  []*row    // every horse, those that the veterinarian has to be told of first, then by name
	byName  []*row    // the same by name alone
	shown   []*row    // what the search leaves: what is due, visits not finished, checks to come, then horses
	opens   int       // how many of shown stand above the horses
	cursor  list.List
	top     list.List
	bottom  list.List
	finding bool
	find    list.Find
	round   round.Round          // today's; empty until it is read
	told    map[exam.HorseID]int // horses that the veterinarian has to be told of, the higher the sooner
	chip    string               // that was read and that no horse has; until the next key
	far     base.Far             // how far the reading of the round is
	refused string               // a practice's own schedule that was refused
	shared  nav.SharedMsg
	// unsettled is how many visits, horses and settings are to be settled.
	unsettled int
	// arrived is how many visits came in from other laptops since yesterday.
	arrived int
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

// Right says how many horses are in the record.
func (s *screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return s.arrivals() + s.settling() + s.sharing() + notation.Counted(len(s.horses), "horse")
}

// arrivals says how many visits came in from other laptops since yesterday.
func (s *screen) arrivals() string {
	if s.arrived == 0 {
		return ""
	}
	return fmt.Sprintf("%d arrived · ", s.arrived)
}

// cameIn lists them.
func (s *screen) cameIn() keys.Binding {
	if s.arrived == 0 {
		return keys.Arrived().With("", "").OffIf("no visit came in since yesterday")
	}
	return keys.Arrived()
}

// settling says that two laptops wrote something in two ways, or that a horse may be entered
// twice; ctrl+t lists it.
func (s *screen) settling() string {
	if s.unsettled == 0 {
		return ""
	}
	return fmt.Sprintf("%d to settle · ", s.unsettled)
}

// sharing says when was shared last and what waits; empty where this laptop works alone.
func (s *screen) sharing() string {
	m := s.shared
	switch now := s.Deps.Now(); {
	case m.At.IsZero():
		return ""
	case m.At.Local().Format(time.DateOnly) == now.Local().Format(time.DateOnly):
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("15:04"), waits(m.Waiting))
	default:
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("2 Jan"), waits(m.Waiting))
	}
}

func waits(n int) string {
	if n == 0 {
		return "all sent"
	}
	return notation.Counted(n, "line") + " to send"
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
	s.open, s.byName, s.unsettled, s.arrived = m.open, m.horses, m.unsettled, m.arrived
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
		if r.found.Horse.ID == at.found.Horse.ID && r.visit == at.visit && r.at.IsZero() == at.at.IsZero() {
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
	coming := matching(s.checks, words)
	for now := s.Deps.Now(); len(coming) > 0 && coming[0].due(now); coming = coming[1:] {
		s.shown = append(s.shown, coming[0])
	}
	s.shown = append(s.shown, matching(s.open, words)...)
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

func (s *screen) Keys() []keys.Binding {
	r, ok := s.here()
	none, empty := "", ""
	if !ok {
		none = "there is no horse under the cursor"
	}
	if len(s.horses) == 0 {
		empty = "no horse is in the record yet"
	}
	if s.finding {
		return []keys.Binding{
			keys.Choose().OffIf(none), keys.Up(), keys.Down(),
			keys.TakeBack().With("erase", "remove the last letter of the search"),
		}
	}
	tour, progress := keys.Tour(), keys.Progress().With("", "")
	if empty == "" {
		tour = tour.With("", "") // in help, once there is something to do
	}
	begin := keys.Begin()
	if ok && (r.visit != "" || r.found.Open != "") {
		begin = begin.With("go on", "go on with the exam that is not finished")
	}
	return []keys.Binding{
		keys.Choose().OffIf(none), keys.Up().OffIf(none), keys.Down().OffIf(none), begin.OffIf(none),
		keys.FindHorse(), keys.New(), keys.Round().OffIf(empty), keys.Due().OffIf(empty), tour, s.again(), keys.Episode().With("", "").OffIf(none), s.compare(), s.settle(), s.cameIn(), keys.Settings(), keys.Rehearse(), keys.QuickCount(), keys.Sums(), progress, keys.PageDown(),
	}
}

// compare sets the last two visits of the horse under the cursor side by side.
func (s *screen) compare() keys.Binding {
	b := keys.Compare().With("compare", "set the last two visits of the horse under the cursor side by side")
	r, ok := s.here()
	switch {
	case !ok:
		return b.OffIf("there is no horse under the cursor")
	case s.visits(r.found.Horse.ID) < 2:
		return b.OffIf("this horse has fewer than two visits")
	}
	return b
}

// settle lists what is to be settled; only where there is something.
func (s *screen) settle() keys.Binding {
	if s.unsettled == 0 {
		return keys.Settle().With("", "").OffIf("nothing is to be settled")
	}
	return keys.Settle()
}

// again begins the next check of the horse under the cursor.
func (s *screen) again() keys.Binding {
	b := keys.CheckAgain()
	switch r, ok := s.here(); {
	case !ok:
		return b.OffIf("there is no horse under the cursor")
	case r.visit != "", r.found.Open != "":
		return b.OffIf("its exam is not finished: go on with that")
	}
	return b
}

// visits is how many visits a horse has.
func (s *screen) visits(id exam.HorseID) int {
	for _, r := range s.horses {
		if r.found.Horse.ID == id {
			return r.found.Visits
		}
	}
	return 0
}

func (s *screen) press(p keys.Press) tea.Cmd {
	chip := s.chip
	s.chip = ""
	if s.cursor.Move(p, len(s.shown)) {
		return nil
	}
	r, ok := s.here()
	if ok && keys.Choose().Is(p) {
		return s.enter(r)
	}
	if s.finding {
		if s.find.Press(p) {
			s.lookAgain()
		}
		return nil
	}
	for _, b := range []keys.Binding{s.again(), s.compare()} {
		if b.Names(p) && b.Off != "" {
			return nav.Say("Not now: " + b.Off + ".")
		}
	}
	switch {
	case s.again().Is(p):
		return nav.Go(nav.Address{Screen: nav.Again, Horse: r.found.Horse.ID})
	case ok && keys.Episode().Is(p):
		return nav.Go(nav.Address{Screen: nav.Episode, Horse: r.found.Horse.ID})
	case ok && keys.Begin().Is(p):
		return begin(r)
	case keys.FindHorse().Is(p):
		s.finding = true
	case keys.New().Is(p):
		return nav.Go(nav.Address{Screen: nav.NewForm, Chip: chip})
	case keys.Tour().Is(p):
		return nav.Go(nav.Address{Screen: nav.Tour})
	case keys.Progress().Is(p):
		return nav.Go(nav.Address{Screen: nav.Progress})
	case keys.Rehearse().Is(p):
		return nav.Go(nav.Address{Screen: nav.Rehearse})
	case s.compare().Is(p):
		return nav.Go(nav.Address{Screen: nav.Compare, Horse: r.found.Horse.ID, Last: 2})
	case s.cameIn().Is(p):
		return nav.Go(nav.Address{Screen: nav.Arrived})
	case s.settle().Is(p):
		return nav.Go(nav.Address{Screen: nav.Settle})
	case keys.QuickCount().Is(p):
		return nav.Go(nav.Address{Screen: nav.Tally, Heard: "heart"})
	case keys.Sums().Is(p):
		return nav.Go(nav.Address{Screen: nav.Sums})
	case keys.Settings().Is(p):
		return nav.Go(nav.Address{Screen: nav.Settings})
	case keys.Round().Is(p) && len(s.horses) > 0:
		return nav.Go(nav.Address{Screen: nav.Round})
	case keys.Due().Is(p) && len(s.horses) > 0:
		return nav.Go(nav.Address{Screen: nav.Due})
	}
	return nil
}

func (s *screen) enter(r *row) tea.Cmd {
	s.finding = false
	switch {
	case r.visit != "":
		return nav.Go(nav.Address{Screen: nav.Exam, Horse: r.found.Horse.ID, Visit: r.visit})
	case !r.at.IsZero():
		return nav.Go(nav.Address{Screen: nav.Again, Horse: r.found.Horse.ID})
	}
	return nav.Go(nav.Address{Screen: nav.Horse, Horse: r.found.Horse.ID})
}

// begin goes on with an open visit, or starts a new one.
func begin(r *row) tea.Cmd {
	visit := r.visit
	if visit == "" {
		visit = r.found.Open
	}
	if visit != "" {
		return nav.Go(nav.Address{Screen: nav.Exam, Horse: r.found.Horse.ID, Visit: visit})
	}
	return nav.Go(nav.Address{Screen: nav.Start, Horse: r.found.Horse.ID})
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
