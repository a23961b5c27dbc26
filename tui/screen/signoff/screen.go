// Package signoff is the screen on which a person saves that they read a visit: name, role and their own words. If the role
// is veterinarian, the visit is signed off.
package signoff

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id   exam.VisitID
	read desk.Judged

	by, words *form.Text
	role      *form.OneOf
}

// New makes the screen for the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit}
	s.Set(deps, s.load, s.store, form.EscDiscards)
	return s
}

func (s *screen) load() tea.Cmd {
	d, id := s.Deps.Desk, s.id
	return base.Read(s, func() (desk.Judged, error) { return d.Read(id) }, s.build)
}

func (s *screen) Title() string { return s.VisitTitle("Sign off", s.read.Visit) }

func (s *screen) Cautions() []string { return s.read.Visit.Horse.Cautions }

// build begins without a name: nobody signs with enter alone, and not in the name of whoever uses the machine.
func (s *screen) build(j desk.Judged) tea.Cmd {
	s.read = j
	o := s.Options()
	s.by = form.NewText("read by", "", 60, form.Named("the reader types their own name"), o)
	s.role = form.NewOneOf("as", []exam.Choice{
		{Key: string(exam.ReadByVet), Words: exam.ReadByVet.String(), Hint: "signs the visit off"},
		{Key: string(exam.ReadByColleague), Words: exam.ReadByColleague.String(), Hint: "has read it; does not sign it off"},
	}, string(exam.ReadByVet), o)
	s.words = form.NewText("words", "", notation.MaxNote, nil, o).Hint(func(string) string { return "your own words, shown on the page; may stay empty." }).Long()
	s.Begin(form.New(s.Deps.Theme, "save that this visit was read", "sign off").With(s.by, s.role, s.words))
	return nil
}

func (s *screen) store() tea.Cmd {
	return s.WriteEntry(exam.Entry{
		Visit: s.id, Kind: exam.EntryRead, At: s.Deps.Now(), By: s.by.Content(),
		Reading: &exam.ReadingLine{Role: exam.ReaderRole(s.role.Chosen()), Words: s.words.Content()},
	})
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	var head []string
	if size.H > 10 {
		v := s.read.Visit
		state := "This visit is open. Later entries are not signed off."
		if v.Closed() {
			state = "This visit is closed."
		}
		text := fmt.Sprintf("%s %s.", state, s.read.Coverage.Level(s.read.Verdict.Level))
		for _, line := range report.Readings(v) {
			text += " " + line
		}
		head = append(s.Faint(text, size.W), "")
	}
	return s.Draw(size, head)
}
