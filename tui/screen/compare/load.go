package compare

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/tui/screen/base"
)

// read is a horse's visits set side by side.
type read struct {
	visits []exam.Visit // of the columns, then the earlier ones
	table  compare.Table
}

func (s *screen) load() tea.Cmd {
	deps, id, most := s.Deps, s.id, mostColumns
	if s.from.Last > 0 {
		most = min(s.from.Last, mostColumns)
	}
	return base.Read(s, func() (read, error) {
		visits, err := deps.Store.Past(id, mostColumns+keptVisits)
		if err != nil {
			return read{}, base.Unread("the visits of this horse", err)
		}
		visits = exam.ByClock(deps.Now(), exam.LookedAt(visits))
		columns := min(len(visits), most)
		table := compare.VisitsIn(deps.Settings.Units, visits[:columns], visits[columns:], deps.Judge, deps.Steps)
		table.Cover(visits, deps.Routines, deps.Steps)
		return read{visits, table}, nil
	}, s.take)
}
