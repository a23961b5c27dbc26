package review

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// seen is the visit that is looked over, with its lines.
type seen struct {
	nav.Seen
	entries []exam.Entry
}

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (seen, error) {
		v, err := deps.See(id)
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
	if !s.Loaded {
		s.cursor = 0
	}
	s.step(0)
	if s.finish && !s.Visit.Closed() {
		s.ask()
	}
	s.finish = false
	return nil
}

// close writes every step that is left as not done with the reason, then closes
// the visit: no silent gap stays.
func (s *screen) close(reason string) tea.Cmd {
	store, id, lines := s.Deps.Store, s.id, []exam.Entry{}
	if s.Deps.Patient != nil {
		lines = append(lines, s.Deps.Patient.Closing(len(s.Left))...)
	}
	for _, k := range s.Left {
		lines = append(lines, exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: reason})
	}
	by, now := s.Deps.Settings.Person, s.Deps.Now
	if by == "" {
		by = s.Visit.By
	}
	judge, earlier := s.Deps.Judge, s.Earlier
	end := exam.Entry{Visit: id, At: now(), By: by, Kind: exam.EntryClosed, WithoutHandOff: s.without}
	return base.Write(s, func() (refused error, _ error) {
		v, err := store.Visit(id)
		if err == nil {
			err = exam.Admit(v, judge.Ended(v, earlier).Remarks, end) // as it stands now, not as it was read
		}
		if err != nil {
			return err, nil
		}
		for _, e := range lines {
			e.Visit, e.At, e.By = id, now(), by
			if _, err := store.Append(e); err != nil {
				return fmt.Errorf("the visit is not closed; every answer is stored: %w", err), nil
			}
		}
		end.At = now()
		if _, err = store.Append(end); err != nil {
			err = fmt.Errorf("the visit is not closed; every answer is stored: %w", err)
		}
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
