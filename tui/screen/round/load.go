package round

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/round"
	"loosebox/tui/nav"
)

// loadedRoundMsg is the round of a day.
type loadedRoundMsg struct {
	to     *screen
	day    string
	writes int
	round  round.Round
	err    error
}

// addedRoundMsg says whether what was decided is on the disk, and is the round
// with it.
type addedRoundMsg struct {
	to     *screen
	day    string
	round  round.Round
	picked exam.HorseID // to put the cursor on
	err    error        // nothing was written
	unread error        // it was written, and the round could not be read again
}

// schedule is the vaccination schedule, or none where the program has none.
func schedule(deps *nav.Deps) (*due.Table, error) {
	if deps.Schedule == nil {
		return nil, errors.New("this program was built without a vaccination schedule; nothing was changed")
	}
	table, _, err := deps.Schedule()
	if err != nil {
		return nil, fmt.Errorf("the vaccination schedule cannot be read; nothing was changed: %w", err)
	}
	return table, nil
}

func (s *screen) load() tea.Cmd {
	deps, day, writes := s.deps, s.day, s.writes
	return func() tea.Msg {
		m := loadedRoundMsg{to: s, day: day, writes: writes}
		table, err := schedule(deps)
		if err != nil {
			m.err = err
			return m
		}
		m.round, m.err = round.Read(deps.Store, day, deps.Now(), table, deps.Judge)
		return m
	}
}

// add writes lines about horses of this day, and reads those horses again.
func (s *screen) add(picked exam.HorseID, lines ...exam.RoundLine) tea.Cmd {
	deps, before := s.deps, s.round
	now := deps.Now()
	ids := make([]exam.HorseID, len(lines))
	for i := range lines {
		lines[i].Day, lines[i].At, lines[i].By = s.day, now, deps.Settings.Person
		ids[i] = lines[i].Horse
	}
	s.saving = true
	s.writes++
	return func() tea.Msg {
		m := addedRoundMsg{to: s, day: before.Day, picked: picked}
		if m.err = deps.Store.AddToRound(lines...); m.err != nil {
			return m
		}
		table, err := schedule(deps)
		if err == nil {
			m.round, err = round.Again(deps.Store, before, now, table, deps.Judge, ids...)
		}
		m.unread = err
		return m
	}
}

func (s *screen) added(m addedRoundMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	s.saving = false
	switch {
	case m.err != nil:
		return nav.Fail(fmt.Errorf("this is NOT stored, what you typed still stands here: %w", m.err))
	case m.unread != nil:
		s.ask, s.find = nil, nil
		return nav.Fail(fmt.Errorf("it is stored, but the round cannot be read again: %w", m.unread))
	}
	s.ask, s.find = nil, nil
	s.show(m.round)
	if m.picked != "" {
		s.goTo(m.picked)
	}
	return nil
}
