package dose

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// load reads the horse, and the dose that is put right.
func (s *screen) load() tea.Cmd {
	deps, id, visit, number := s.Deps, s.horse, s.visit, s.number
	return base.Read(s, func() (papers, error) {
		p := papers{by: deps.Settings.Person}
		var err error
		if p.found, err = deps.Store.Horse(id); err != nil {
			return p, base.Unread("this horse", err)
		}
		if p.schedule, err = schedule(deps); err != nil || visit == "" {
			return p, err
		}
		v, err := deps.Store.Visit(visit)
		if err != nil {
			return p, base.Unread("this visit", err)
		}
		p.by = deps.Person(v)
		if number > 0 {
			i, ok := v.Injection(number)
			if !ok || !i.Earlier() {
				return p, fmt.Errorf("injection %d of this visit is not a past dose", number)
			}
			p.stands = i
		}
		return p, nil
	}, s.take)
}

// schedule is the practice's, or the one that is built in.
func schedule(deps *nav.Deps) (*due.Table, error) {
	if deps.Schedule == nil {
		return due.BuiltIn()
	}
	t, _, err := deps.Schedule()
	return t, err
}

func (s *screen) store() tea.Cmd {
	now, by, why := s.Deps.Now(), s.rows.by.Content(), s.rows.why.Content()
	l, err := s.schedule.Noted(s.rows.papers(), now)
	if s.number > 0 && len(s.rows.never.Set()) > 0 {
		l, err = due.NotGiven(s.stands), nil
	}
	if err != nil {
		return nav.Fail(err)
	}
	said := fmt.Sprintf("Saved: %s, %s.", notation.CleanLine(s.rows.product.Content(), 40), notation.Shown(l.On))
	deps, horse, visit, number := s.Deps, s.horse, s.visit, s.number
	return base.Write(s, func() (string, error) {
		var err error
		if number > 0 {
			_, err = deps.PutRight(visit, number, l, by, why, now)
		} else {
			_, _, err = deps.Note(horse, l, by, now)
		}
		return said, err
	}, s.saved)
}
