package review

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
)

type loadedReviewMsg struct {
	id      exam.VisitID
	visit   exam.Visit
	earlier []exam.Visit
	entries []exam.Entry
	err     error
}

type closedVisitMsg struct {
	id  exam.VisitID
	err error
}

func (s *screen) load() tea.Cmd {
	store, id := s.deps.Store, s.id
	return func() tea.Msg {
		v, err := store.Visit(id)
		if err != nil {
			return loadedReviewMsg{id: id, err: fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)}
		}
		entries, err := store.Entries(id)
		if err != nil {
			return loadedReviewMsg{id: id, err: fmt.Errorf("the lines of this visit cannot be read; nothing was changed: %w", err)}
		}
		past, err := store.Past(v.Horse.ID, 0)
		if err != nil {
			return loadedReviewMsg{id: id, err: fmt.Errorf("earlier visits cannot be read: %w", err)}
		}
		var earlier []exam.Visit
		for _, p := range past {
			if p.ID != id && p.OpenedAt.Before(v.OpenedAt) {
				earlier = append(earlier, p)
			}
		}
		return loadedReviewMsg{id: id, visit: v, earlier: earlier, entries: entries}
	}
}

func (s *screen) take(m loadedReviewMsg) tea.Cmd {
	if m.id != s.id {
		return nil
	}
	if m.err != nil {
		return nav.Fail(m.err)
	}
	s.visit, s.earlier, s.entries = m.visit, m.earlier, m.entries
	s.verdict = s.deps.Judge.Ended(m.visit, m.earlier)
	s.left, s.covered = nil, m.visit.CoverageIn(s.deps.Routines, s.deps.Steps)
	for _, r := range s.deps.Routines {
		if r.Name == m.visit.Routine {
			s.left = m.visit.Left(r.For(m.visit.Class(), s.deps.Steps))
		}
	}
	s.build()
	s.cursor = min(s.cursor, max(len(s.lines)-1, 0))
	if !s.loaded {
		s.cursor = 0
	}
	s.loaded = true
	s.step(0)
	if s.finish && !s.visit.Closed() {
		s.ask()
	}
	s.finish = false
	return nil
}

// close writes every step that is left as not done with the reason, then closes
// the visit: no silent gap stays.
func (s *screen) close(reason string) tea.Cmd {
	s.saving = true
	store, id, lines := s.deps.Store, s.id, []exam.Entry{}
	if s.deps.Patient != nil {
		lines = append(lines, s.deps.Patient.Closing(len(s.left))...)
	}
	for _, k := range s.left {
		lines = append(lines, exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: reason})
	}
	by, now := s.deps.Settings.Person, s.deps.Now
	if by == "" {
		by = s.visit.By
	}
	judge, earlier := s.deps.Judge, s.earlier
	end := exam.Entry{Visit: id, At: now(), By: by, Kind: exam.EntryClosed, WithoutHandOff: s.without}
	return func() tea.Msg {
		v, err := store.Visit(id)
		if err == nil {
			err = exam.Admit(v, judge.Ended(v, earlier).Remarks, end) // as it stands now, not as it was read
		}
		if err != nil {
			return closedVisitMsg{id: id, err: err}
		}
		for _, e := range lines {
			e.Visit, e.At, e.By = id, now(), by
			if _, err := store.Append(e); err != nil {
				return closedVisitMsg{id: id, err: fmt.Errorf("the visit is not closed; every answer is stored: %w", err)}
			}
		}
		end.At = now()
		if _, err = store.Append(end); err != nil {
			err = fmt.Errorf("the visit is not closed; every answer is stored: %w", err)
		}
		return closedVisitMsg{id: id, err: err}
	}
}

func (s *screen) closed(m closedVisitMsg) tea.Cmd {
	if m.id != s.id {
		return nil
	}
	s.saving = false
	if m.err != nil {
		return tea.Batch(nav.Fail(m.err), s.load())
	}
	if s.deps.Patient != nil {
		return s.deps.Patient.Closed()
	}
	return s.load()
}
