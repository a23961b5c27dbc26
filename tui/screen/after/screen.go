// Package after is the screen of what follows an exam: hand-off, decision, injections, draws, watches, rechecks and closing,
// each open, done or locked with the reason. Enter opens the screen of a line.
package after

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/desk"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	id      exam.VisitID
	seen    desk.Judged
	lines   []after.Task
	cursor  list.List
	first   int    // drawn line at the top
	said    string // why a locked line is not opened
	recheck *recheck
	ticking bool
}

// New makes the hub of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string { return s.VisitTitle("After the exam", s.seen.Visit) }

func (s *screen) Right() string {
	if !s.Loaded || !s.seen.Visit.Closed() {
		return ""
	}
	return "closed"
}

func (s *screen) Cautions() []string { return s.seen.Visit.Horse.Cautions }
func (s *screen) Typing() bool       { return s.recheck != nil && s.recheck.form.Typing() }

// Escape closes the lines of a recheck.
func (s *screen) Escape() bool {
	was := s.recheck != nil
	s.recheck, s.said = nil, ""
	return was
}

// Keys of the hub.
func (s *screen) Keys() []keys.Binding {
	if s.recheck != nil {
		return s.recheck.form.Keys()
	}
	return []keys.Binding{keys.Choose().With("open", "open the line under the cursor; a locked one says why"), keys.Up(), keys.PageDown(), keys.Review(), keys.Record()}
}

type tickWatchMsg struct{ to *screen }

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (desk.Judged, error) { return deps.Read(id) }, s.take)
}

// Update counts the time of a watch.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	m, ok := msg.(tickWatchMsg)
	if !ok || m.to != s {
		return s.Screen.Update(msg)
	}
	s.ticking = false
	s.build()
	return s.tick()
}

// take puts the visit on the screen. If it has changed, the cursor goes to the line that comes next.
func (s *screen) take(seen desk.Judged) tea.Cmd {
	on := !s.Loaded || seen.Visit.Entries != s.seen.Visit.Entries
	s.seen = seen
	s.build()
	if on {
		s.cursor.Cursor = after.Next(s.lines)
	}
	return s.tick()
}

func (s *screen) build() {
	s.lines = s.Deps.Following(s.seen, s.Deps.Settings, s.Deps.Now())
	s.cursor.Keep(len(s.lines))
}

// tick draws the screen again while a watch runs.
func (s *screen) tick() tea.Cmd {
	if s.ticking || len(s.seen.Visit.Watching()) == 0 {
		return nil
	}
	s.ticking = true
	return s.Deps.Later(time.Second, tickWatchMsg{s})
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	return s.draw(size)
}
