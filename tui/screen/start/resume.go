package start

import (
	"fmt"
	"reflect"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

// resuming says that the screen is of a visit that is open already: it asks who is working now, and what was said
// before the exam can be corrected.
func (s *screen) resuming() bool { return s.visit != "" }

// loadOpen reads the open visit.
func (s *screen) loadOpen() tea.Cmd {
	store, id := s.deps.Store, s.visit
	return func() tea.Msg {
		v, err := store.Visit(id)
		if err != nil {
			return loadedStartMsg{id: v.Horse.ID, visit: id, err: fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)}
		}
		return loadedStartMsg{id: v.Horse.ID, visit: id, horse: v.Horse, was: v.Context, worker: v.Worker(), openedAt: v.OpenedAt}
	}
}

// withContext puts what the visit holds into the lines.
func (s *screen) withContext(c exam.Context) {
	s.was = c
	for _, part := range []struct {
		row *form.Text
		q   *exam.Quantity
	}{{s.air, c.Air}, {s.globe, c.Globe}} {
		if part.q != nil {
			part.row.Put(part.q.Text(1))
		}
	}
	if c.Humid != nil {
		s.humid.Put(exam.FormatNumber(*c.Humid, 1))
	}
	s.given.Put(c.Given)
}

// goOn stores a context that was changed, and who is working now, and goes to the exam.
func (s *screen) goOn() tea.Cmd {
	store, id, now, settings := s.deps.Store, s.visit, s.deps.Now(), s.deps.Settings
	changed := settings.Person != s.person.Content()
	settings.Person = s.person.Content()
	context := s.withMedicine(s.context())
	context.Note = s.was.Note
	horse, same := s.id, reflect.DeepEqual(context, s.was)
	return func() tea.Msg {
		m := begunVisitMsg{id: horse, visit: id}
		if !same {
			_, err := store.Append(exam.Entry{Visit: id, Kind: exam.EntryContext, At: now, By: settings.Person, Context: &context})
			if err != nil {
				m.err = fmt.Errorf("what was said before the exam is NOT changed: %w", err)
				return m
			}
		}
		if changed {
			if err := store.SaveSettings(settings); err != nil {
				m.err = fmt.Errorf("your name is NOT saved: %w", err)
				return m
			}
			m.settings = &settings
		}
		return m
	}
}

// onward is where the screen leads: to the exam, or back where it was opened from the review.
func (s *screen) onward(visit exam.VisitID) tea.Cmd {
	if s.from == nav.Review {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.Exam, Horse: s.id, Visit: visit, From: nav.Start})
}
