package rehearse

import (
	"fmt"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// A rehearsal that was left can be gone on with for so long; so many are offered.
const (
	goesOnFor = 12 * time.Hour
	mostOpen  = 3
)

// lookedThrough is how many of the newest rehearsals say which step is due: a month of one a day, and marked in a blink.
const lookedThrough = 30

// unfinished is a rehearsal that can be gone on with, and its horse.
type unfinished struct {
	visit exam.Visit
	horse *rehearse.Horse
}

// choices is what there is to choose from.
type choices struct {
	cases []rehearse.Case
	wrong []string // files that were refused
	open  []unfinished
	due   []progress.Due // steps that the person rehearses again, the one that is due first before the others
}

// begun is a rehearsal that is open; partly is what is not stored although it is.
type begun struct {
	visit    exam.Visit
	horse    *rehearse.Horse
	settings *exam.Settings
	partly   error
}

func (s *screen) load() tea.Cmd {
	if s.Deps.Rehearsals == nil {
		return nil
	}
	deps, now := s.Deps, s.Deps.Now()
	return base.Read(s, func() (c choices, err error) {
		c.cases, c.wrong = deps.RehearsalCases()
		list, err := deps.Rehearsals.Unfinished()
		for _, v := range list {
			if len(c.open) == mostOpen || now.Sub(v.OpenedAt) > goesOnFor {
				break
			}
			if h, err := again(deps, c.cases, v); err == nil {
				c.open = append(c.open, unfinished{v, h})
			}
		}
		if err != nil {
			return c, base.Unread("the rehearsals", err)
		}
		c.due, err = dueOf(deps, c.cases)
		return c, base.Unread("the rehearsals", err)
	}, s.take)
}

// dueOf are the steps that the person of the settings is to rehearse again.
func dueOf(d *nav.Deps, cases []rehearse.Case) ([]progress.Due, error) {
	if d.Settings.Person == "" {
		return nil, nil
	}
	r := progress.Reader{Cases: cases, Routines: d.Routines, Steps: d.Steps, Ranges: d.Ranges, Judge: d.Judge}
	points, _, err := r.Newest(d.Rehearsals, lookedThrough)
	if err != nil {
		return nil, err
	}
	for _, p := range progress.People(points) {
		if p.Is(d.Settings.Person) {
			return p.Due(), nil
		}
	}
	return nil, nil
}

// again makes the horse of a stored rehearsal; the error says that its case is
// gone or was changed.
func again(d *nav.Deps, cases []rehearse.Case, v exam.Visit) (*rehearse.Horse, error) {
	c, err := rehearse.CaseOf(v, cases, d.Steps, d.Ranges)
	if err != nil {
		return nil, err
	}
	return rehearse.Again(v, c, d.Steps, d.Ranges)
}

func (s *screen) take(c choices) tea.Cmd {
	s.choices = c
	s.build()
	return nil
}

// start goes on with the open rehearsal that was chosen, or begins a new one.
func (s *screen) start() tea.Cmd {
	if s.begin != nil {
		for _, u := range s.open {
			switch s.begin.Chosen() {
			case string(u.visit.ID):
				return s.meet(u.horse, u.visit)
			case dropMark + string(u.visit.ID):
				return s.drop(u.visit)
			}
		}
	}
	if s.play.Set != nil {
		return s.startSet(*s.play.Set)
	}
	seed, err := strconv.ParseUint(s.seed.Content(), 10, 64)
	if err != nil {
		return nav.Fail(err)
	}
	c, ok := rehearse.CaseNamed(s.cases, s.which.Chosen())
	if !ok {
		if c, ok = rehearse.AnyCase(s.cases, seed); !ok {
			return nav.Fail(exam.NoSuch("there is no case to rehearse"))
		}
	}
	routine := c.Routine
	if r := s.routine.Chosen(); r != ownRoutine {
		routine = r
	}
	return s.opening(c, seed, routine)
}

// drop voids a rehearsal that will not be finished, with its reason: it stays in the record and counts nowhere.
func (s *screen) drop(v exam.Visit) tea.Cmd {
	store := s.Deps.Rehearsals
	e := exam.Entry{Visit: v.ID, Kind: exam.EntryStruck, At: s.Deps.Now(), By: s.person.Content(), Amend: &exam.Amendment{Why: exam.AmendReason(notation.CleanNote(s.why.Content()))}}
	if e.By == "" {
		e.By = v.By
	}
	return base.Write(s, func() (exam.Visit, error) {
		if _, _, err := store.Strike(e, ""); err != nil {
			return v, fmt.Errorf("the rehearsal is NOT dropped: %w", err)
		}
		return v, nil
	}, func(v exam.Visit) tea.Cmd {
		s.dropped = notation.CleanLine(v.Horse.Name, 30) + " of " + notation.Clock(v.OpenedAt, s.Deps.Now()) + " is dropped."
		return s.load()
	})
}

// opening draws the horse and opens the visit.
func (s *screen) opening(c rehearse.Case, seed uint64, routine string) tea.Cmd {
	o := Beginning{Case: c, Seed: seed, Routine: routine, By: s.person.Content()}
	for _, key := range s.modes.Set() {
		o.Modes.Blind = o.Modes.Blind || key == blindMode
		o.Modes.Timed = o.Modes.Timed || key == timedMode
	}
	return s.beginWith(o)
}

// startSet begins a set exam, where it may be taken.
func (s *screen) startSet(set rehearse.Set) tea.Cmd {
	o, err := SetBeginning(s.Deps, set, s.cases, s.person.Content())
	if err != nil {
		return nav.Fail(err)
	}
	return s.beginWith(o)
}

func (s *screen) beginWith(o Beginning) tea.Cmd {
	deps, settings := s.Deps, s.Deps.Settings
	changed := settings.Person != o.By
	settings.Person = o.By
	return base.Write(s, func() (m begun, err error) {
		if m.horse, m.visit, err = Begin(deps, o); err != nil {
			return m, err
		}
		if changed {
			if err := deps.Store.SaveSettings(settings); err != nil {
				m.partly = fmt.Errorf("the rehearsal is open, but your name is not saved for the next one: %w", err)
				return m, nil
			}
			m.settings = &settings
		}
		return m, nil
	}, s.begun)
}

func (s *screen) begun(m begun) tea.Cmd {
	var cmds []tea.Cmd
	if m.settings != nil {
		cmds = append(cmds, nav.Settled(*m.settings))
	}
	cmds = append(cmds, s.meet(m.horse, m.visit))
	if m.partly != nil {
		cmds = append(cmds, nav.Fail(m.partly))
	}
	return tea.Sequence(cmds...)
}

// meet shows the form before the exam, or goes on with the exam if it was begun.
func (s *screen) meet(h *rehearse.Horse, v exam.Visit) tea.Cmd {
	if len(v.Context.States) == 0 && len(v.Findings) == 0 {
		s.toDoor(h, v)
		return nil
	}
	return s.enter(h, v)
}

func (s *screen) enter(h *rehearse.Horse, v exam.Visit) tea.Cmd {
	return nav.Replace(nav.Address{Screen: nav.Exam, Horse: v.Horse.ID, Visit: v.ID, With: Within(s.Deps, h, v)})
}

// goIn stores what the horse had been doing and goes to it.
func (s *screen) goIn() tea.Cmd {
	d := s.door
	var context exam.Context
	for _, key := range d.states.Set() {
		context.States = append(context.States, exam.State(key))
	}
	if len(context.States) == 0 {
		return s.enter(d.horse, d.visit)
	}
	desk := atRehearsals(s.Deps)
	e := exam.Entry{Visit: d.visit.ID, Kind: exam.EntryContext, At: s.Deps.Now(), By: d.visit.By, Context: &context}
	return base.Write(s, func() (exam.Entry, error) {
		e, err := desk.Write(e)
		if err != nil {
			err = fmt.Errorf("what the horse was doing is NOT saved; enter tries again: %w", err)
		}
		return e, err
	}, func(exam.Entry) tea.Cmd { return s.enter(d.horse, d.visit) })
}
