// Package again is the screen that begins the next check of an episode: it asks when the check after it is due and who
// examines, then opens the five-minute check.
package again

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// none is typed where no next check is set.
const none = "none"

type screen struct {
	form.Screen
	id     exam.HorseID
	seen   seen
	next   *form.Text
	person *form.Text
}

// seen is what is read of the record.
type seen struct {
	horse exam.Horse
	past  []exam.Visit
}

// New makes the screen for the horse in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Horse}
	s.Deps, s.Load, s.Store = deps, s.load, s.begin
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Again"
	}
	return "Again · " + notation.CleanLine(s.seen.horse.Name, 30)
}

func (s *screen) Cautions() []string { return s.seen.horse.Cautions }

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (v seen, err error) {
		if v.horse, err = deps.Store.Horse(id); err != nil {
			return v, base.Unread("this horse", err)
		}
		v.past, err = deps.Store.Past(id, 0)
		return v, base.Unread("the visits of this horse", err)
	}, s.take)
}

func (s *screen) take(v seen) tea.Cmd {
	s.seen = v
	o := s.Options()
	span := notation.Span(episode.Interval(episode.Of(v.past, "")))
	s.next = form.NewText("next check in", span, 40, s.check, o).Hint(s.hint).Fresh()
	s.person = form.NewPerson(s.Deps.Settings.Person, form.InitialsOfEntries, o)
	f := form.New(s.Deps.Theme, "begin the five-minute check", "begin")
	f.With(s.next, s.person)
	s.Begin(f)
	if s.Deps.Settings.Person != "" {
		f.ToEnd()
	} else {
		f.Go(s.person)
	}
	return nil
}

func (s *screen) check(text string) error {
	_, err := s.moment(text)
	return err
}

// moment is when the next check is due; the zero Moment for none.
func (s *screen) moment(text string) (notation.Moment, error) {
	if text == "" || text == none {
		return notation.Moment{}, nil
	}
	m, err := notation.ReadMoment(text, s.Deps.Now())
	if err == nil && m.At == nil {
		err = &notation.Refusal{Typed: text, Why: "type the time: 30 min, 1h, 20:00"}
	}
	return m, err
}

func (s *screen) hint(text string) string {
	m, err := s.moment(text)
	switch {
	case err != nil:
		return "as 30 min, 1h, 20:00; none for no further check"
	case m.Day == "":
		return "no further check is set"
	}
	return "due " + m.Words(s.Deps.Now())
}

func (s *screen) begin() tea.Cmd {
	m, err := s.moment(s.next.Content())
	if err != nil {
		return nil // the form's check has said so
	}
	deps, id, by, now := s.Deps, s.id, s.person.Content(), s.Deps.Now()
	return base.Write(s, func() (desk.OpenedVisit, error) {
		return deps.Again(id, desk.NextCheck{Next: m}, by, now)
	}, func(o desk.OpenedVisit) tea.Cmd {
		to := nav.Replace(nav.Address{Screen: nav.Exam, Horse: id, Visit: o.Visit.ID})
		if o.Partly != nil {
			return tea.Sequence(to, nav.Fail(o.Partly))
		}
		return to
	})
}

// last is a sentence that says when the horse was last examined.
func (s *screen) last() string {
	seen := exam.LookedAt(s.seen.past)
	if len(seen) == 0 {
		return "No visit of this horse is in the record yet."
	}
	v := seen[0]
	text := fmt.Sprintf("Last checked %s.", notation.ShownAt(v.OpenedAt, s.Deps.Now()))
	if v.Reason != "" {
		text += " Reason: " + notation.CleanLine(v.Reason, 60) + "."
	}
	return text
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the horse .."
	}
	head := s.Faint(s.last()+" The check asks temperature, heart, breathing, gums, gut, digital pulses, behavior and pain.", size.W)
	return s.Draw(size, append(head, ""))
}
