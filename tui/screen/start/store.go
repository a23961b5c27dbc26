package start

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// begun is what is read before the exam: the horse, and the open visit where one is gone on with.
type begun struct {
	horse exam.Horse
	open  string // says that a visit of the horse is not finished
	// others says who has the horse open on other laptops, where no visit of it is open here.
	others string
	clock  string // says that the clock is behind its newest visit

	was      exam.Context // of the open visit
	worker   string       // who worked on it last
	openedAt time.Time
	before   string // that it began long ago
	// elsewhere says who has it open on another laptop.
	elsewhere string
}

// opened is a visit that is open. A second error says what is not stored although
// the visit is.
type opened struct {
	visit    exam.VisitID
	settings *exam.Settings // where they were changed and stored
	partly   error
}

func (s *screen) load() tea.Cmd {
	store, id, now := s.Deps.Store, s.id, s.Deps.Now()
	return base.Read(s, func() (begun, error) {
		h, err := store.Horse(id)
		if err != nil {
			return begun{}, base.Unread("this horse", err)
		}
		b := begun{horse: h}
		past, err := store.Past(id, 0)
		if len(past) > 0 {
			b.clock = exam.ClockBehind(past[0].OpenedAt, now)
		}
		if own, open := exam.GoesOn(past); open {
			b.open = "The visit begun " + notation.ShownAt(own.OpenedAt, now) + " is not finished; esc, then b goes on with it."
		} else if b.others = exam.OpenElsewhere(past, now); b.others != "" {
			b.open = b.others + " You can begin an exam of your own: both stay."
		}
		return b, base.Unread("the visits of this horse", err)
	}, s.take)
}

// begin opens the visit, stores what the horse had been doing, and remembers who
// examines and by which routine for the next time.
func (s *screen) begin() tea.Cmd {
	desk, now, settings := s.Deps.Desk, s.Deps.Now(), s.Deps.Settings
	changed := settings.Person != s.person.Content() || s.remembers() && settings.Routine != s.routine.Chosen()
	settings.Person = s.person.Content()
	if s.remembers() {
		settings.Routine = s.routine.Chosen()
	}
	opening := exam.Opening{Horse: s.horse, Routine: s.routine.Chosen(), Reason: s.reason.Content()}
	context := s.withMedicine(s.context())
	return base.Write(s, func() (opened, error) {
		begun, err := desk.Begin(opening, context, settings.Person, now)
		if err != nil {
			return opened{}, err
		}
		o := opened{visit: begun.Visit.ID, partly: begun.Partly}
		if changed {
			if err := desk.Store.SaveSettings(settings); err != nil {
				o.partly = fmt.Errorf("the visit is open, but your name and routine are not saved for the next one: %w", err)
				return o, nil
			}
			o.settings = &settings
		}
		return o, nil
	}, s.toExam)
}

// remembers says that the routine which was chosen is offered first the next time: not one that was asked for by its name,
// nor one for the age of a foal.
func (s *screen) remembers() bool {
	return s.offered == "" && steps.ByAge(s.horse, s.Deps.Now()) == ""
}

// toExam goes on to the exam.
func (s *screen) toExam(o opened) tea.Cmd {
	var cmds []tea.Cmd
	if o.settings != nil {
		cmds = append(cmds, nav.Settled(*o.settings))
	}
	cmds = append(cmds, s.onward(o.visit))
	if o.partly != nil {
		cmds = append(cmds, nav.Fail(o.partly))
	}
	return tea.Sequence(cmds...)
}
