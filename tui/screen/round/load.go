package round

import (
	"context"
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/round"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// added is the round with what was decided, which is on the disk.
type added struct {
	round  round.Round
	unread error // the round could not be read again
}

// schedule is the vaccination schedule, or none where the program has none.
func schedule(deps *nav.Deps) (*due.Table, error) {
	if deps.Schedule == nil {
		return nil, errors.New("this program was built without a vaccination schedule; nothing was changed")
	}
	table, _, err := deps.Schedule()
	if err != nil {
		return nil, base.Unread("the vaccination schedule", err)
	}
	return table, nil
}

func (s *screen) load() tea.Cmd {
	deps, day, writes := s.Deps, s.day, s.writes
	return base.ReadLong(s, func(ctx context.Context) (round.Round, error) {
		table, err := schedule(deps)
		if err != nil {
			return round.Round{}, err
		}
		return deps.Rounds.Read(ctx, deps.Store, day, deps.Now(), table, deps.Judge)
	}, func(r round.Round) tea.Cmd {
		switch {
		case day != s.day:
			return nil
		case writes != s.writes: // it was read before the last of them
			return s.load()
		}
		s.show(r)
		return nil
	}, func(f base.Far) { s.far = f })
}

// add writes lines about horses of this day, and reads those horses again.
func (s *screen) add(picked exam.HorseID, lines ...exam.RoundLine) tea.Cmd {
	deps, before := s.Deps, s.round
	now := deps.Now()
	ids := make([]exam.HorseID, len(lines))
	for i := range lines {
		lines[i].Day, lines[i].At, lines[i].By = s.day, now, deps.Settings.Person
		ids[i] = lines[i].Horse
	}
	s.writes++
	return base.Write(s, func() (a added, err error) {
		if err = deps.Store.AddToRound(lines...); err != nil {
			return a, fmt.Errorf("NOT saved; what you typed is still here: %w", err)
		}
		table, err := schedule(deps)
		if err == nil {
			a.round, err = round.Again(deps.Store, before, now, table, deps.Judge, ids...)
		}
		a.unread = err
		return a, nil
	}, func(a added) tea.Cmd {
		s.ask, s.find = nil, nil
		if a.unread != nil {
			return nav.Fail(fmt.Errorf("it is saved, but the round cannot be read again: %w", a.unread))
		}
		s.show(a.round)
		if picked != "" {
			s.goTo(picked)
		}
		return nil
	})
}
