// Package episode is the screen of an episode, checks of one horse within hours of each other: when the next is due, what
// changed by more than normal variation, what was given, and the checks as columns with their times.
package episode

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

type screen struct {
	base.Screen
	id    exam.HorseID
	visit exam.VisitID // of the episode to show; empty for the newest

	read   read
	first  int // line at the top
	height int
	lines  int
}

// read is what is read of the record.
type read struct {
	horse exam.Horse
	seen  episode.Episode
	found bool
	open  exam.VisitID // a visit that is not finished
}

// New makes the episode of the horse in the address; with a visit, the one that holds it.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, visit: to.Visit}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) load() tea.Cmd {
	deps, id, visit := s.Deps, s.id, s.visit
	return base.Read(s, func() (r read, err error) {
		if r.horse, err = deps.Store.Horse(id); err != nil {
			return r, base.Unread("this horse", err)
		}
		var checks []exam.Visit
		if r.seen, checks, err = deps.Desk.Episode(id, visit, deps.Settings.Units, deps.Now()); err != nil {
			return r, err
		}
		r.found = len(checks) > 0
		for _, c := range r.seen.Table.Columns {
			if c.Open {
				r.open = c.ID
			}
		}
		return r, nil
	}, func(r read) tea.Cmd {
		s.read = r
		return nil
	})
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Episode"
	}
	return "Episode · " + notation.CleanLine(s.read.horse.Name, 30)
}

func (s *screen) Right() string {
	if !s.read.found {
		return ""
	}
	return notation.Counted(len(s.read.seen.Table.Columns), "check")
}

func (s *screen) Cautions() []string { return s.read.horse.Cautions }

func (s *screen) Keys() []keys.Binding {
	again := keys.CheckAgain()
	if s.read.open != "" {
		again = again.With("go on checking", "go on with the check that is not finished")
	}
	none := ""
	if !s.read.found {
		none = "there is no episode to show"
	}
	return []keys.Binding{again, keys.Up().With("scroll", "scroll by a line").OffIf(none), keys.Compare().OffIf(none), keys.PageDown()}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded {
		return nil
	}
	switch {
	case keys.CheckAgain().Is(p) && s.read.open != "":
		return nav.Go(nav.Address{Screen: nav.Exam, Horse: s.id, Visit: s.read.open})
	case keys.CheckAgain().Is(p):
		return nav.Go(nav.Address{Screen: nav.Again, Horse: s.id})
	case keys.Compare().Is(p) && s.read.found:
		return nav.Go(nav.Address{Screen: nav.Compare, Horse: s.id, Visit: s.visit})
	case keys.Up().Is(p):
		s.first--
	case keys.Down().Is(p):
		s.first++
	case keys.PageUp().Is(p):
		s.first -= max(s.height-1, 1)
	case keys.PageDown().Is(p):
		s.first += max(s.height-1, 1)
	}
	s.keep()
	return nil
}

// keep holds the top line within the page.
func (s *screen) keep() { s.first = max(min(s.first, s.lines-s.height), 0) }

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the checks .."
	case !s.read.found:
		return strings.Join(layout.Wrap("No check was repeated within hours, and none is set. Press a to begin one.", size.W), "\n")
	}
	lines := Page(s.read.seen, s.Deps.Theme, size.W, s.Deps.Now())
	s.lines, s.height = len(lines), size.H
	s.keep()
	return strings.Join(lines[s.first:min(s.first+size.H, len(lines))], "\n")
}
