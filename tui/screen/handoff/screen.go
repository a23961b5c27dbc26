// Package handoff is the screen with the page that is read to the veterinarian. After that it asks to whom it was read, what
// was asked, and whether it was read back.
package handoff

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/handoff"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/source"
)

type screen struct {
	base.Screen
	id     exam.VisitID
	seen   desk.Judged
	page   handoff.Page
	text   []string // the page in lines of a width, until either changes
	width  int
	first  int // line of the page at the top
	height int
	count  int   // lines of the page when it was drawn last
	told   *told // to whom it was read; nil while the page is up
	origin source.Panel
}

// New makes the hand-off of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Hand-off"
	}
	return "Hand-off · " + notation.CleanLine(s.seen.Visit.Horse.Name, 30)
}

// Right says how long reading takes.
func (s *screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return fmt.Sprintf("about %.0f s aloud", s.page.Seconds())
}

func (s *screen) Cautions() []string { return s.seen.Visit.Horse.Cautions }
func (s *screen) Typing() bool       { return s.told != nil && s.told.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if s.told == nil || s.Saving() {
		return nil
	}
	return s.told.form
}

// Escape goes from the lines back to the page; what was typed stays.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	if s.told == nil || !s.told.up {
		return false
	}
	s.told.up = false
	return true
}

// Keys of the page, or of the lines.
func (s *screen) Keys() []keys.Binding {
	if s.told != nil && s.told.up {
		return s.told.form.Keys()
	}
	if s.origin.Open() {
		return s.origin.Keys()
	}
	return []keys.Binding{
		keys.Accept().With("it was read", "save whom you told and what you asked"),
		keys.Up().With("scroll", "scroll the page"), keys.PageDown(), keys.Source().With("source", "show where these numbers come from"),
	}
}

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (desk.Judged, error) { return deps.Read(id) }, func(seen desk.Judged) tea.Cmd {
		s.seen = seen
		s.make()
		return nil
	})
}

// make makes the page with what is asked, which changes while it is typed.
func (s *screen) make() {
	asked := ""
	if s.told != nil {
		asked = s.told.asked.Content()
	}
	s.text = nil
	s.page = s.Deps.Page(s.seen, asked, s.Deps.Person(s.seen.Visit), s.Deps.Settings, s.Deps.Now())
}

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case !s.Loaded:
		return nil
	case s.told != nil && s.told.up:
		outcome := s.told.form.Press(p)
		s.make()
		if outcome == form.Save && s.told.form.Check() {
			return s.save()
		}
		return nil
	}
	page := max(s.height-1, 1)
	switch {
	case s.origin.Press(p):
		return nil
	case keys.Source().Is(p):
		s.origin.Show(s.Title(), s.Deps.PageSources(s.seen, s.page))
	case keys.Accept().Is(p):
		if s.told == nil {
			s.told = newTold(s.Deps, s.seen.Visit, s.page)
		}
		s.told.up = true
		s.make()
	case keys.Up().Is(p):
		s.first--
	case keys.Down().Is(p):
		s.first++
	case keys.PageUp().Is(p):
		s.first -= page
	case keys.PageDown().Is(p):
		s.first += page
	}
	s.first = max(min(s.first, s.count-s.height), 0)
	return nil
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	return s.draw(size)
}
