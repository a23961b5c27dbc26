// Package late is the screen on which something is added to a closed visit: what,
// when it happened, and why it is written only now. The entry says that it is late.
package late

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id    exam.VisitID
	visit exam.Visit

	what, when, why, by *form.Text
}

// New makes the screen that adds to the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Set(deps, s.load, s.store, form.EscDiscards)
	return s
}

func (s *screen) load() tea.Cmd {
	store, id := s.Deps.Store, s.id
	return base.Read(s, func() (exam.Visit, error) {
		v, err := store.Visit(id)
		return v, base.Unread("this visit", err)
	}, s.build)
}

func (s *screen) Title() string { return s.VisitTitle("Add later", s.visit) }

func (s *screen) Cautions() []string { return s.visit.Horse.Cautions }

func (s *screen) build(v exam.Visit) tea.Cmd {
	s.visit = v
	o := s.Options()
	s.what = form.NewText("what", "", notation.MaxNote, form.Needed("type what was forgotten"), o)
	s.when = form.NewDay("happened", s.about().Format(notation.DayForm+" 15:04"), 40, true, s.checkWhen, o).Hint(s.whenHint)
	s.why = form.NewText("why late", "", 0, form.Needed("type why it is added now"), o)
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	s.Begin(form.New(s.Deps.Theme, "add it to the visit", "add").With(s.what, s.when, s.why, s.by))
	return nil
}

// about is when the visit began by the clock of now: a time that is typed is read by it.
func (s *screen) about() time.Time { return s.visit.OpenedAt.In(s.Deps.Now().Location()) }

func (s *screen) checkWhen(text string) error {
	at, err := notation.ReadWhen(text, s.about())
	if err == nil && at.After(s.Deps.Now()) {
		err = &notation.Refusal{Why: "that time is in the future: type when it happened"}
	}
	return err
}

func (s *screen) whenHint(text string) string {
	at, err := notation.ReadWhen(text, s.about())
	if err != nil {
		return ""
	}
	return at.Format("Monday 2 January 2006, 15:04")
}

func (s *screen) store() tea.Cmd {
	happened, err := notation.ReadWhen(s.when.Content(), s.about())
	if err != nil {
		return nav.Fail(err)
	}
	return s.WriteEntry(exam.Entry{
		Visit: s.id, Kind: exam.EntryAdded, At: s.Deps.Now(), By: s.by.Content(), Note: s.what.Content(),
		Amend: &exam.Amendment{Why: exam.AmendReason(s.why.Content()), Happened: &happened},
	})
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	var head []string
	if size.H > 10 {
		head = append(s.Faint("The visit is closed. Your addition shows when it happened and why it is late. To correct a finding, press enter on it in the review.", size.W), "")
	}
	return s.Draw(size, head)
}
