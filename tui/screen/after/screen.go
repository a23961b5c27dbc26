// Package after is the hub of what follows an exam: hand-off, decision,
// injections, draws, watches, rechecks and closing, each open, done or locked and
// why; enter goes to the line's own screen.
package after

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/list"
)

type screen struct {
	deps *nav.Deps
	id   exam.VisitID

	loaded  bool
	seen    nav.Seen
	lines   []after.Line
	cursor  list.List
	first   int    // drawn line at the top
	said    string // why a locked line is not opened
	recheck *recheck
	saving  bool
	ticking bool
}

// New makes the hub of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen { return &screen{deps: deps, id: to.Visit} }

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	if !s.loaded {
		return "After the exam"
	}
	v := s.seen.Visit
	return fmt.Sprintf("After the exam: %s, %s", exam.CleanLine(v.Horse.Name, 30), v.OpenedAt.Format("2 Jan 2006 15:04"))
}

func (s *screen) Right() string {
	if !s.loaded || !s.seen.Visit.Closed() {
		return ""
	}
	return "closed"
}

func (s *screen) Cautions() []string { return s.seen.Visit.Horse.Cautions }
func (s *screen) Typing() bool       { return s.recheck != nil && s.recheck.form.Typing() }

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

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
	return []keys.Binding{keys.Choose().With("open", "open the line under the cursor; a locked one says why"), keys.Up(), keys.PageDown(), keys.Review()}
}

// readMsg is the visit as it stands; savedMsg says that a recheck is on the disk.
type (
	readVisitMsg struct {
		to   *screen
		seen nav.Seen
		err  error
	}
	savedRecheckMsg struct {
		to  *screen
		err error
	}
	tickWatchMsg struct{ to *screen }
)

func (s *screen) load() tea.Cmd {
	deps, id := s.deps, s.id
	return func() tea.Msg {
		seen, err := deps.See(id)
		return readVisitMsg{to: s, seen: seen, err: err}
	}
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case readVisitMsg:
		return s.take(m)
	case savedRecheckMsg:
		return s.saved(m)
	case tickWatchMsg:
		if m.to == s {
			s.ticking = false
			s.build()
			return s.tick()
		}
	case nav.ShownMsg:
		return s.load()
	case keys.Press:
		return s.press(m)
	}
	return nil
}

// take puts the visit on the screen. What was written since the last look leads
// the cursor on to what comes next.
func (s *screen) take(m readVisitMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	if m.err != nil {
		return nav.Fail(m.err)
	}
	on := !s.loaded || m.seen.Visit.Entries != s.seen.Visit.Entries
	s.loaded, s.seen = true, m.seen
	s.build()
	if on {
		s.cursor.Cursor = after.Next(s.lines)
	}
	return s.tick()
}

func (s *screen) build() {
	s.lines = s.deps.Following(s.seen)
	s.cursor.Keep(len(s.lines))
}

// tick draws the screen again while a watch runs.
func (s *screen) tick() tea.Cmd {
	if s.ticking || len(s.seen.Visit.Watching()) == 0 {
		return nil
	}
	s.ticking = true
	return s.deps.Later(time.Second, tickWatchMsg{s})
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the visit .."
	}
	return s.draw(size)
}
