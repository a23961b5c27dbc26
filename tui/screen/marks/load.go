package marks

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/nav"
)

// loadedMarksMsg carries the marks of a rehearsal, or why there are none.
type loadedMarksMsg struct {
	to    *screen
	marks rehearse.Marks
	none  string // a sentence: the rehearsal is as it was stored and cannot be marked, or not yet
	err   error
}

// load works the marks out again from the stored entries.
func (s *screen) load() tea.Cmd {
	deps, id := s.deps, s.id
	return func() tea.Msg {
		m := loadedMarksMsg{to: s}
		if deps.Rehearsals == nil {
			m.none = "No rehearsals are kept here."
			return m
		}
		entries, err := deps.Rehearsals.Entries(id)
		if err != nil {
			m.err = fmt.Errorf("this rehearsal cannot be read; nothing was changed: %w", err)
			return m
		}
		m.marks, err = Reader(deps).Marks(entries)
		switch {
		case errors.Is(err, progress.ErrCannotMark):
			m.none = "The rehearsal is stored as it was made, but " + err.Error() + "."
		case err != nil:
			m.err = err
		case !m.marks.Finished:
			m.none = "This rehearsal is not finished, and what is true stays hidden until it is: finish it in its review first. " +
				"What was left out is then marked as left out."
		}
		return m
	}
}

// Reader is what marks rehearsals, made of what the screens are made of. It reads cases, and so belongs into a command.
func Reader(deps *nav.Deps) progress.Reader {
	cases, _ := deps.RehearsalCases()
	return progress.Reader{Cases: cases, Routines: deps.Routines, Steps: deps.Steps, Ranges: deps.Ranges, Judge: deps.Judge}
}

// how is the way a step is done, as one text; empty for a step that is not known.
func (s *screen) how(l rehearse.Line) string {
	step, ok := s.deps.Steps.ByID(l.Step)
	if !ok || len(step.How) == 0 {
		return ""
	}
	return step.Name + ": " + strings.Join(step.How, " ")
}
