package handoff

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/handoff"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// told is the lines in which it is written down that the page was read.
type told struct {
	up            bool // on the screen now
	form          *form.Form
	to, asked, by *form.Text
	why           *form.Text // of a visit that is closed
	how           *form.OneOf
	back          *form.Several
}

// readBack is the key of the one mark.
const readBack = "read back"

func newTold(deps *nav.Deps, v exam.Visit, page handoff.Page) *told {
	o := entry.Options{Theme: deps.Theme, Now: deps.Now, Later: deps.Later, Settings: deps.Settings}
	to, how := "", exam.Here
	if n := len(v.HandOffs); n > 0 {
		to, how = v.HandOffs[n-1].To, v.HandOffs[n-1].How
	}
	t := &told{form: form.New(deps.Theme, "save the hand-off", "hand off")}
	t.to = form.NewText("to whom", to, 0, form.Named("type the veterinarian's name"), o)
	t.how = form.NewOneOf("how", means(), string(how), o)
	t.asked = form.NewText("what I ask", page.Asks(), notation.MaxNote, form.Needed("type your question as you read it"), o).Hint(func(string) string {
		return "your question; the page shows it"
	}).Long()
	t.back = form.NewMarks("read back", []exam.Choice{{Key: readBack, Words: "they repeated it correctly"}}, nil, nil, o)
	t.back.Hint = "space marks it"
	t.by = form.NewPerson(deps.Person(v), form.InitialsOfEntries, o)
	t.why = form.NewText("why now", "", 0, form.Needed("the visit is closed: type why this is added now"), o)
	t.form.With(t.to, t.how, t.asked, t.back, t.by)
	t.form.Add(t.why, func() bool { return !v.Closed() })
	t.form.Begin()
	return t
}

// means are the ways to read a page to somebody; a standing order is not among them.
func means() []exam.Choice {
	return []exam.Choice{
		{Key: string(exam.Here), Words: exam.Here.String(), Hint: "standing beside the horse, or in the same house"},
		{Key: string(exam.ByTelephone), Words: exam.ByTelephone.String()},
	}
}

func (s *screen) save() tea.Cmd {
	t := s.told
	e := exam.Entry{
		Visit: s.id, Kind: exam.EntryHandedOff, At: s.Deps.Now(), By: t.by.Content(), Reason: t.why.Content(),
		HandOff: &exam.HandOffLine{To: t.to.Content(), How: exam.Means(t.how.Chosen()), Asked: t.asked.Content(), ReadBack: len(t.back.Set()) > 0},
	}
	deps := s.Deps
	// Back where the hand-off was opened; the hub then leads on to the decision.
	return base.Write(s, func() (exam.Entry, error) { return deps.Write(e) }, func(exam.Entry) tea.Cmd { return nav.Back() })
}
