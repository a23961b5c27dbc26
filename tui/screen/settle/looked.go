package settle

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/settle"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// looked is the form by which somebody says that they looked at what is to be settled in a visit.
type looked struct {
	form.Screen
	id     exam.VisitID
	visit  exam.Visit
	beside []exam.Visit // that were open with it on another laptop

	words, by *form.Text
}

func newLooked(deps *nav.Deps, id exam.VisitID) nav.Screen {
	s := &looked{id: id}
	s.Set(deps, s.load, s.save, "esc again leaves; nothing is settled")
	return s
}

func (s *looked) load() tea.Cmd {
	at, id := s.Deps.Desk, s.id
	return base.Read(s, func() (desk.Judged, error) {
		j, err := at.Read(id)
		return j, base.Unread("this visit", err)
	}, s.build)
}

func (s *looked) Title() string { return s.VisitTitle("To settle", s.visit) }

func (s *looked) Cautions() []string { return s.visit.Horse.Cautions }

func (s *looked) build(j desk.Judged) tea.Cmd {
	s.visit, s.beside = j.Visit, j.AtOnce
	o := s.Options()
	s.words = form.NewText("what came of it", "", 0, form.Needed("type what came of it, such as: the vet was told"), o).
		Hint(func(string) string { return "in a few words, such as: the vet was told" })
	s.by = form.NewPerson(s.Deps.Settings.Person, form.Initials, o)
	s.Begin(form.New(s.Deps.Theme, "save that somebody looked", "save").With(s.words, s.by))
	return nil
}

func (s *looked) save() tea.Cmd {
	by, words, now := s.by.Content(), s.words.Content(), s.Deps.Now()
	entries := settle.Compared(s.visit, s.beside, by, words, now)
	if entry, ok := settle.Looked(s.visit, by, words, now); ok {
		entries = append(entries, entry)
	}
	if len(entries) == 0 {
		return nav.Back()
	}
	return s.WriteEntries(entries)
}

func (s *looked) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	var head []string
	for _, i := range settle.OfVisit(s.visit, s.Deps.Steps, s.Deps.Now()) {
		if i.Kind != exam.UnsettledAnswers {
			head = append(head, layout.Wrap(i.Text, size.W)...)
		}
	}
	for _, i := range settle.AtOnce(settle.Both([]exam.Visit{s.visit}, s.beside), s.Deps.Now()) {
		head = append(head, layout.Wrap(i.Text, size.W)...)
	}
	return s.Draw(size, append(head[:min(len(head), max(size.H-7, 1))], ""))
}
