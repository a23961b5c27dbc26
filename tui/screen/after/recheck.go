package after

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// recheck is the lines in which a day is set on which something is looked at again.
type recheck struct {
	form     *form.Form
	on, what *form.Text
	why      *form.Text // of a visit that is closed
	corrects int        // entry of the one that is put right
	stands   exam.RecheckLine
}

// openRecheck opens the lines, for a new recheck or for one that stands. One that
// was set with a decision is put right there.
func (s *screen) openRecheck(seq int) tea.Cmd {
	for _, d := range s.seen.Visit.Decisions {
		if seq > 0 && d.Seq == seq {
			return nav.Go(nav.Address{Screen: nav.Decision, Horse: s.seen.Visit.Horse.ID, Visit: s.id, Number: seq})
		}
	}
	var stands exam.RecheckLine
	if line := s.seen.Visit.RecheckOf(seq); line != nil {
		stands = *line
	}
	s.recheck = newRecheck(s.Deps, stands, seq, s.seen.Visit.Closed())
	return nil
}

func newRecheck(deps *nav.Deps, stands exam.RecheckLine, seq int, closed bool) *recheck {
	o := entry.Options{Theme: deps.Theme, Now: deps.Now, Later: deps.Later, Settings: deps.Settings}
	r := &recheck{form: form.New(deps.Theme, "set the follow-up", "set"), corrects: seq, stands: stands}
	r.on = form.NewDay("when", stands.ISO(), 40, false, coming(deps.Now, stands), o).Hint(form.Moment(deps.Now))
	r.what = form.NewText("what", stands.What, 0, form.Needed("type what is to be checked then"), o)
	r.why = form.NewText("why now", "", 0, form.Needed("the visit is closed: type why this is added now"), o)
	r.form.With(r.on, r.what)
	r.form.Add(r.why, func() bool { return !closed })
	r.form.Begin()
	return r
}

// coming is the check of a time that is still to come; the one that stands may be over.
func coming(now func() time.Time, stands exam.RecheckLine) func(string) error {
	return func(text string) error {
		if text != "" && text == stands.ISO() {
			return nil
		}
		_, err := notation.ReadMoment(text, now())
		return err
	}
}

func (s *screen) save() tea.Cmd {
	what := s.recheck.what.Content()
	line := exam.RecheckLine{On: s.recheck.stands.On, Time: s.recheck.stands.Time, What: what}
	if on := s.recheck.on.Content(); on != s.recheck.stands.ISO() {
		when, err := notation.ReadMoment(on, s.Deps.Now())
		if err != nil {
			return nil // the form's check has said so
		}
		line = exam.RecheckAt(when, what)
	}
	e := exam.Entry{
		Visit: s.id, Kind: exam.EntryNote, At: s.Deps.Now(), By: s.Deps.Person(s.seen.Visit), Corrects: s.recheck.corrects, Reason: s.recheck.why.Content(),
		Recheck: &line,
	}
	deps := s.Deps
	return base.Write(s, func() (exam.Entry, error) { return deps.Write(e) }, func(exam.Entry) tea.Cmd {
		s.recheck = nil
		return s.load()
	})
}
