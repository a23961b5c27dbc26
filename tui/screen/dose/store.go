package dose

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
)

// load reads the horse, and the dose that is put right.
func (s *screen) load() tea.Cmd {
	deps, id, visit, number := s.deps, s.horse, s.visit, s.number
	return func() tea.Msg {
		m := readHorseMsg{to: s, by: deps.Settings.Person}
		var err error
		if m.horse, err = deps.Store.Horse(id); err != nil {
			m.err = fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)
			return m
		}
		if m.schedule, err = schedule(s); err != nil {
			m.err = err
			return m
		}
		if visit == "" {
			return m
		}
		v, err := deps.Store.Visit(visit)
		if err != nil {
			m.err = fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)
			return m
		}
		m.by = deps.Person(v)
		if number > 0 {
			i, ok := v.Injection(number)
			if !ok || !i.Earlier() {
				m.err = fmt.Errorf("injection %d of this visit is no dose noted from papers", number)
				return m
			}
			m.stands = i
		}
		return m
	}
}

// schedule is the practice's, or the one that is built in.
func schedule(s *screen) (*due.Table, error) {
	if s.deps.Schedule == nil {
		return due.BuiltIn()
	}
	t, _, err := s.deps.Schedule()
	return t, err
}

func (s *screen) save() tea.Cmd {
	now, by, why := s.deps.Now(), s.rows.by.Content(), s.rows.why.Content()
	l, err := s.schedule.Noted(s.rows.papers(), now)
	if s.number > 0 && len(s.rows.never.Set()) > 0 {
		l, err = due.NotGiven(s.stands), nil
	}
	if err != nil {
		return failed(s, err)
	}
	s.saving = true
	said := fmt.Sprintf("Written down: %s, %s.", exam.CleanLine(s.rows.product.Content(), 40), l.On)
	deps, horse, visit, number := s.deps, s.horse, s.visit, s.number
	return func() tea.Msg {
		var err error
		if number > 0 {
			_, err = deps.PutRight(visit, number, l, by, why, now)
		} else {
			_, _, err = deps.Note(horse, l, by, now)
		}
		return savedDoseMsg{to: s, err: err, said: said}
	}
}

func failed(s *screen, err error) tea.Cmd {
	return func() tea.Msg { return savedDoseMsg{to: s, err: err} }
}
