package compare

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/compare"
)

// loadedVisitsMsg is a horse's visits set side by side.
type loadedVisitsMsg struct {
	of     *screen
	visits []exam.Visit
	table  compare.Table
	err    error
}

func (s *screen) load() tea.Cmd {
	deps, id := s.deps, s.id
	return func() tea.Msg {
		visits, err := deps.Store.Past(id, mostColumns+keptVisits)
		if err != nil {
			return loadedVisitsMsg{of: s, err: fmt.Errorf("the visits of this horse cannot be read; nothing was changed: %w", err)}
		}
		visits = exam.LookedAt(visits)
		columns := min(len(visits), mostColumns)
		table := compare.Visits(visits[:columns], visits[columns:], deps.Judge, deps.Steps)
		table.Cover(visits, deps.Routines, deps.Steps)
		return loadedVisitsMsg{of: s, visits: visits, table: table}
	}
}
