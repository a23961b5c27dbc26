package review

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// seen is the visit that is looked over, with its lines.
type seen struct {
	desk.Judged
	entries []exam.Entry
}

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (seen, error) {
		v, err := deps.Read(id)
		if err != nil {
			return seen{}, err
		}
		entries, err := deps.Store.Entries(id)
		return seen{v, entries}, base.Unread("the lines of this visit", err)
	}, s.take)
}

func (s *screen) take(v seen) tea.Cmd {
	s.seen = v
	s.build()
	s.cursor = min(s.cursor, max(len(s.lines)-1, 0))
	if at := slices.IndexFunc(s.lines, func(l line) bool { return l.place && !l.alone && l.at == s.to }); at >= 0 {
		s.cursor = at
	}
	s.to = exam.Key{} // do not move the cursor again
	s.step(0)
	if s.finish && !s.Visit.Closed() {
		s.ask()
	}
	s.finish = false
	return nil
}

// close stores every step that is left as not done with the reason, then closes the visit.
func (s *screen) close(reason exam.Reason) tea.Cmd {
	end := desk.Ending{Left: s.Left, Reason: string(reason), Without: s.without}
	if s.Deps.Patient != nil {
		end.First = s.Deps.Patient.Closing(len(s.Left))
	}
	at, id, by, now := s.Deps.Desk, s.id, s.Deps.Person(s.Visit), s.Deps.Now
	return base.Write(s, func() (refused error, _ error) {
		_, err := at.Close(id, end, by, now)
		return err, nil
	}, s.closed)
}

// closed reads the visit again, whether it was closed or not.
func (s *screen) closed(err error) tea.Cmd {
	if err != nil {
		return tea.Batch(nav.Fail(err), s.load())
	}
	if s.Deps.Patient != nil {
		return s.Deps.Patient.Closed()
	}
	return s.load()
}
