package start

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
)

// loadedStartMsg is the horse to be examined.
type loadedStartMsg struct {
	id    exam.HorseID
	horse exam.Horse
	open  string
	err   error

	visit    exam.VisitID // the open visit, where one is gone on with
	was      exam.Context
	worker   string
	openedAt time.Time
}

// begunVisitMsg says that a visit is open. A second error says what is not stored
// although the visit is.
type begunVisitMsg struct {
	id       exam.HorseID
	visit    exam.VisitID
	settings *exam.Settings // where they were changed and stored
	err      error
	partly   error
}

func (s *screen) load() tea.Cmd {
	store, id := s.deps.Store, s.id
	return func() tea.Msg {
		h, err := store.Horse(id)
		if err != nil {
			return loadedStartMsg{id: id, err: fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)}
		}
		past, err := store.Past(id, 1)
		if err != nil {
			return loadedStartMsg{id: id, err: fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)}
		}
		m := loadedStartMsg{id: id, horse: h}
		if len(past) > 0 && !past[0].Closed() {
			m.open = "The visit begun " + past[0].OpenedAt.Format("2006-01-02 15:04") + " is not finished; esc, then b goes on with it."
		}
		return m
	}
}

// begin opens the visit, stores what the horse had been doing, and keeps who
// examines for the next time.
func (s *screen) begin() tea.Cmd {
	store, id, now, settings := s.deps.Store, s.id, s.deps.Now(), s.deps.Settings
	changed := settings.Person != s.person.Content()
	settings.Person = s.person.Content()
	opening := exam.Opening{Horse: s.horse, Routine: s.routine.Chosen(), Reason: s.reason.Content()}
	context := s.withMedicine(s.context())
	return func() tea.Msg {
		v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: now, By: settings.Person, Opening: &opening})
		if err != nil {
			return begunVisitMsg{id: id, err: fmt.Errorf("the visit is NOT opened, nothing was stored: %w", err)}
		}
		m := begunVisitMsg{id: id, visit: v.ID}
		if !context.Empty() {
			_, err = store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryContext, At: now, By: settings.Person, Context: &context})
			if err != nil {
				m.partly = fmt.Errorf("the visit is open, but what the horse had been doing and was given is NOT stored: %w", err)
			}
		}
		if changed {
			if err := store.SaveSettings(settings); err != nil {
				m.partly = fmt.Errorf("the visit is open, but your name is not kept for the next one: %w", err)
				return m
			}
			m.settings = &settings
		}
		return m
	}
}

// begun goes on to the exam.
func (s *screen) begun(m begunVisitMsg) tea.Cmd {
	if m.id != s.id || !s.saving {
		return nil
	}
	s.saving = false
	if m.err != nil {
		return nav.Fail(m.err)
	}
	var cmds []tea.Cmd
	if m.settings != nil {
		settings := *m.settings
		cmds = append(cmds, func() tea.Msg { return nav.SettingsMsg{Settings: settings} })
	}
	cmds = append(cmds, s.onward(m.visit))
	if m.partly != nil {
		cmds = append(cmds, nav.Fail(m.partly))
	}
	return tea.Sequence(cmds...)
}
