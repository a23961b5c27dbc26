// Package trend is the screen of one finding over time: numbers drawn with the
// range of the class and the horse's own, words as a table.
package trend

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

// keptVisits is how many visits are read: the newest ones.
const keptVisits = 100

type screen struct {
	base.Screen
	id     exam.HorseID
	at     exam.Key
	visit  exam.VisitID // where the cursor begins
	data   series
	cursor list.List // into data.lines, newest first
	origin source.Panel

	together bool     // the other measures are drawn under this one
	others   []series // what they are, once asked for
	moments  []moment // of all that is drawn
}

// New makes the trend of the horse and place in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse, at: to.At, visit: to.Visit}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	step, ok := s.Deps.Steps.ByID(s.at.Step)
	if !ok {
		step.Name = notation.CleanLine(string(s.at.Step), 40)
	}
	name := step.Name
	if s.at.Site != exam.NoSite {
		name += ", " + notation.CleanLine(s.at.Site.String(), 20)
	}
	if !s.Loaded || s.data.horse.Name == "" {
		return "Trend · " + name
	}
	return "Trend · " + name + " · " + notation.CleanLine(s.data.horse.Name, 40)
}

func (s *screen) Right() string {
	if !s.Loaded || s.data.unit == notation.NoUnit || s.data.unit == notation.Points {
		return ""
	}
	return "in " + string(s.data.unit)
}

// Cautions are those of the horse as it was known at the newest visit.
func (s *screen) Cautions() []string { return base.OneLine(s.data.horse.Cautions) }

// Escape closes the source.
func (s *screen) Escape() bool { return s.origin.Close() }

func (s *screen) Keys() []keys.Binding {
	if s.origin.Open() {
		return s.origin.Keys()
	}
	none := ""
	if len(s.data.lines) == 0 {
		none = "there is no finding"
	}
	return []keys.Binding{
		keys.Up().OffIf(none), keys.Down().OffIf(none),
		keys.Left().With("visit", "go to an earlier or a later visit").OffIf(none), keys.Right().OffIf(none),
		keys.Choose().With("open", "open the review of the visit under the cursor").OffIf(none),
		s.togetherKey(), keys.Source().OffIf(none), keys.PageDown(),
	}
}

// togetherKey draws the vital measures above each other.
func (s *screen) togetherKey() keys.Binding {
	b := keys.Together()
	if s.together {
		b = b.With("one measure", "")
	}
	if len(s.data.points) == 0 {
		return b.OffIf("this finding is no number")
	}
	return b
}

func (s *screen) take(r read) tea.Cmd {
	s.data, s.others = r.series, r.others
	s.moments = momentsOf(s.measures())
	for i, l := range s.data.lines {
		if l.visit == s.visit {
			s.cursor.Cursor = i
		}
	}
	s.cursor.Keep(len(s.data.lines))
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if len(s.data.lines) == 0 || s.origin.Press(p) {
		return nil
	}
	switch {
	case s.cursor.Move(p, len(s.data.lines)):
	case keys.Left().Is(p): // the past is at the left
		s.cursor.Cursor++
	case keys.Right().Is(p):
		s.cursor.Cursor--
	case s.togetherKey().Is(p):
		s.together = !s.together
		return s.load()
	case keys.Source().Is(p):
		s.show()
	case keys.Accept().Is(p):
		return nav.Go(nav.Address{Screen: nav.Review, Horse: s.id, Visit: s.data.lines[s.cursor.Cursor].visit})
	}
	s.cursor.Keep(len(s.data.lines))
	s.visit = s.data.lines[s.cursor.Cursor].visit
	return nil
}

func (s *screen) View(size layout.Size) string {
	switch {
	case !s.Loaded:
		return "Reading the visits .."
	case len(s.data.lines) == 0:
		return layout.Cut("No visit of this horse holds this finding.", size.W)
	}
	return s.draw(size)
}
