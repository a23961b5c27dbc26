package home

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// cameIn lists them.
func (s *screen) cameIn() keys.Binding {
	if s.arrived == 0 {
		return keys.Arrived().With("", "").OffIf("no visit came in since yesterday")
	}
	return keys.Arrived()
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
			keys.Back().With("every horse", "end the search and list every horse"),
		}
	}
	tour, progress := keys.Tour(), keys.Progress().With("", "")
	if empty == "" {
		tour = tour.With("", "") // in help, once there is something to do
	}
	begin := keys.Begin()
	if ok && r.own() != "" {
		begin = begin.With("go on", "go on with the exam that is not finished")
	}
	return []keys.Binding{
		keys.Choose().OffIf(none), keys.Up().OffIf(none), keys.Down().OffIf(none), begin.OffIf(none),
		keys.FindHorse().OffIf(empty), keys.New(), s.settle(), s.cameIn(), keys.Round().OffIf(empty), keys.Due().OffIf(empty), tour, s.again(), keys.Episode().With("", "").OffIf(none), s.compare(), keys.Settings(), keys.Rehearse(), keys.QuickCount(), keys.Sums(), progress, keys.PageDown(),
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
	case r.own() != "":
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
	case r.after > 0:
		return nav.Go(nav.Address{Screen: nav.Watch, Horse: r.found.Horse.ID, Visit: r.visit, Number: r.after})
	case r.visit != "":
		return nav.Go(nav.Address{Screen: nav.Exam, Horse: r.found.Horse.ID, Visit: r.visit})
	case !r.at.IsZero():
		return nav.Go(nav.Address{Screen: nav.Again, Horse: r.found.Horse.ID})
	}
	return nav.Go(nav.Address{Screen: nav.Horse, Horse: r.found.Horse.ID})
}

// own is the visit that b goes on with: one that is open on another laptop is gone on with
// by enter; empty for none.
func (r *row) own() exam.VisitID {
	if r.visit != "" && !r.other {
		return r.visit
	}
	return r.found.Open
}

// begin goes on with an open visit, or starts a new one.
func begin(r *row) tea.Cmd {
	if visit := r.own(); visit != "" {
		return nav.Go(nav.Address{Screen: nav.Exam, Horse: r.found.Horse.ID, Visit: visit})
	}
	return nav.Go(nav.Address{Screen: nav.Start, Horse: r.found.Horse.ID})
}
