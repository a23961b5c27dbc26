package start

import (
	"fmt"
	"reflect"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// resuming says that the screen is of a visit that is open already: it asks who is working now, and what was said
// before the exam can be corrected.
func (s *screen) resuming() bool { return s.visit != "" }

// loadOpen reads the open visit.
func (s *screen) loadOpen() tea.Cmd {
	store, id, now := s.Deps.Store, s.visit, s.Deps.Now()
	return base.Read(s, func() (begun, error) {
		v, err := store.Visit(id)
		b := begun{horse: v.Horse, was: v.Context, worker: v.Worker(), openedAt: v.OpenedAt, elsewhere: v.OpenElsewhere(now), clock: exam.ClockBehind(v.OpenedAt, now), before: exam.BegunBefore(v, now)}
		return b, base.Unread("this visit", err)
	}, s.take)
}

// withContext puts what the visit holds into the lines.
func (s *screen) withContext() {
	c := s.was
	for _, part := range []struct {
		row *form.Text
		q   *notation.Quantity
	}{{s.air, c.Air}, {s.globe, c.Globe}} {
		if part.q != nil {
			part.row.Put(part.q.Text(1))
		}
	}
	if c.Humid != nil {
		s.humid.Put(notation.FormatNumber(*c.Humid, 1))
	}
	s.given.Put(c.Given)
}

// goOn stores a context that was changed, and who is working now, and goes to the exam.
func (s *screen) goOn() tea.Cmd {
	desk, id, now, settings := s.Deps.Desk, s.visit, s.Deps.Now(), s.Deps.Settings
	changed := settings.Person != s.person.Content()
	settings.Person = s.person.Content()
	context := s.withMedicine(s.context())
	context.Note = s.was.Note
	same := reflect.DeepEqual(context, s.was)
	return base.Write(s, func() (opened, error) {
		o := opened{visit: id}
		if !same {
			_, err := desk.Write(exam.Entry{Visit: id, Kind: exam.EntryContext, At: now, By: settings.Person, Context: &context})
			if err != nil {
				return o, fmt.Errorf("the answers before the exam are NOT changed: %w", err)
			}
		}
		if changed {
			if err := desk.Store.SaveSettings(settings); err != nil {
				return o, fmt.Errorf("your name is NOT saved: %w", err)
			}
			o.settings = &settings
		}
		return o, nil
	}, s.toExam)
}

// onward is where the screen leads: to the exam, or back where it was opened from the review.
func (s *screen) onward(visit exam.VisitID) tea.Cmd {
	if s.from == nav.Review {
		return nav.Back()
	}
	return nav.Replace(nav.Address{Screen: nav.Exam, Horse: s.id, Visit: visit, From: nav.Start})
}
