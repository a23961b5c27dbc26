package home

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// lookEvery is how often the clock is read while a check is still to come; after a sleep of the laptop the bell is late by
// at most this.
const lookEvery = time.Minute

// clockMsg comes while a check is still to come.
type clockMsg struct{ run int }

// takeChecks makes a row for each horse with a recheck at a time of the day and no open exam, the earliest first, and starts
// the clock for them.
func (s *screen) takeChecks() tea.Cmd {
	s.checks = s.checks[:0]
	open := map[exam.HorseID]bool{}
	for _, r := range s.open {
		open[r.found.Horse.ID] = open[r.found.Horse.ID] || r.after == 0
	}
	for _, c := range s.round.Calls {
		if c.Hour.IsZero() || open[c.Horse.ID] {
			continue
		}
		what := "check"
		for _, r := range c.Reasons {
			if _, text, ok := strings.Cut(r.Words, ": "); ok && r.Kind == round.Recheck {
				what = text
				break
			}
		}
		s.checks = append(s.checks, &row{found: exam.Found{Horse: c.Horse}, at: c.Hour, text: what, search: c.Horse.Searched()})
	}
	slices.SortStableFunc(s.checks, func(a, b *row) int { return a.at.Compare(b.at) })
	s.looked = s.Deps.Now()
	s.run++
	return s.wait()
}

// wait asks for the clock while a check is still to come.
func (s *screen) wait() tea.Cmd {
	now := s.Deps.Now()
	for _, r := range s.checks {
		if r.at.After(now) {
			return s.Deps.Later(min(r.at.Sub(now), lookEvery), clockMsg{s.run})
		}
	}
	return nil
}

// clock rings for each check that came due since the clock was looked at last, and says
// which; whatever screen lies above.
func (s *screen) clock(m clockMsg) tea.Cmd {
	if m.run != s.run {
		return nil
	}
	now, before := s.Deps.Now(), s.looked
	s.looked = now
	var cmds []tea.Cmd
	for _, r := range s.checks {
		if r.at.After(before) && !r.at.After(now) {
			cmds = append(cmds, nav.Say(fmt.Sprintf("Check of %s is due (%s).", notation.CleanLine(r.found.Horse.Name, 40), notation.Clock(r.at, now))))
		}
	}
	if len(cmds) > 0 {
		if ring := s.Deps.Ring(); ring != nil {
			cmds = append(cmds, ring)
		}
		at, had := s.here()
		if s.filter(); had {
			s.goTo(at) // keep the cursor on its row
		}
	}
	return tea.Batch(append(cmds, s.wait())...)
}

// due says that the hour of a row has come.
func (r *row) due(now time.Time) bool { return !r.at.IsZero() && !r.at.After(now) }

// checkLine is a row of a check; what is due has its sign.
func (s *screen) checkLine(r *row, width int) string {
	now := s.Deps.Now()
	at, name := notation.Clock(r.at, now), layout.Pad(notation.CleanLine(r.found.Horse.Name, 0), 14)
	text := fmt.Sprintf("at %s    %s %s", at, name, notation.CleanLine(r.text, 0))
	if r.due(now) {
		text = fmt.Sprintf("[DUE %s] %s %s", at, name, notation.CleanLine(r.text, 0))
		if late := now.Sub(r.at).Truncate(time.Minute); late > 0 {
			text += ", " + notation.Span(late) + " late"
		}
	}
	return layout.Cut(text, width)
}
