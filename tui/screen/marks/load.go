package marks

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// read is the marks of a rehearsal, or why there are none.
type read struct {
	marks rehearse.Marks
	none  string // a sentence: the rehearsal is as it was stored and cannot be marked, or not yet
}

// load works the marks out again from the stored entries.
func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (r read, err error) {
		if deps.Rehearsals == nil {
			r.none = "No rehearsals are saved here."
			return r, nil
		}
		entries, err := deps.Rehearsals.Entries(id)
		if err != nil {
			return r, base.Unread("this rehearsal", err)
		}
		r.marks, err = Reader(deps).Marks(entries)
		v, _ := exam.Fold(entries)
		set, taken := rehearse.SetIn(v, deps.Steps)
		switch {
		case err == nil && taken && r.marks.Finished && !set.MaySee(deps.Now()):
			r.none = "This was the exam " + set.Title + ". It is saved. Its marks are shown " + set.Shown.String() + "."
		case errors.Is(err, progress.ErrCannotMark):
			r.none, err = "The rehearsal is saved, but "+err.Error()+".", nil
		case err == nil && !r.marks.Finished:
			r.none = "This rehearsal is not finished, and what is true stays hidden until it is: finish it in its review first. " +
				"What was left out is then marked as left out."
		}
		return r, err
	}, s.take)
}

// Reader is what marks rehearsals, made of what the screens are made of. It reads cases, and so belongs into a command.
func Reader(deps *nav.Deps) progress.Reader {
	cases, _ := deps.RehearsalCases()
	return progress.Reader{Cases: cases, Routines: deps.Routines, Steps: deps.Steps, Ranges: deps.Ranges, Judge: deps.Judge}
}

// how is the way a step is done, as one text; empty for a step that is not known.
func (s *screen) how(l rehearse.MarkLine) string {
	step, ok := s.Deps.Steps.ByID(l.Step)
	if !ok || len(step.How) == 0 {
		return ""
	}
	return step.Name + ": " + strings.Join(step.How, " ")
}
