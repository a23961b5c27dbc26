package home

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/ranges"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/base"
)

// today is the round, and a practice's own schedule that was refused.
type today struct {
	round   round.Round
	problem string
}

// loadRound reads today's round, once there are horses. It comes after the list of
// horses, because it looks at every visit.
func (s *screen) loadRound() tea.Cmd {
	deps := s.Deps
	if deps.Schedule == nil || len(s.horses) == 0 {
		return nil
	}
	return base.ReadLong(s, func(ctx context.Context) (t today, err error) {
		table, problem, err := deps.Schedule()
		if t.problem = problem; err == nil {
			t.round, err = deps.Rounds.Read(ctx, deps.Store, round.Today(deps.Now()), deps.Now(), table, deps.Judge)
		}
		if err != nil {
			err = fmt.Errorf("today's round cannot be shown: %w", err)
		}
		return t, err
	}, s.takeRound, func(f base.Far) { s.far = f })
}

func (s *screen) takeRound(m today) tea.Cmd {
	s.round, s.refused, s.far = m.round, m.problem, base.Far{}
	at, had := s.here()
	s.urgentFirst()
	cmd := s.takeChecks()
	s.filter()
	if had {
		s.goTo(at) // keep the cursor on its row
	}
	return cmd
}

// urgentFirst puts visits that are not finished, and horses, into the order of the round where the veterinarian is to be told
// of them, before all others.
func (s *screen) urgentFirst() {
	place := func(r *row) int {
		for i, c := range s.round.Calls {
			if c.Told != nil && c.Told.Visit == r.visit {
				return i
			}
		}
		return len(s.round.Calls)
	}
	slices.SortStableFunc(s.open, func(a, b *row) int { return place(a) - place(b) })
	s.told = map[exam.HorseID]int{}
	for i, c := range s.round.Calls {
		if c.Told != nil && c.Told.Open {
			s.told[c.Horse.ID] = len(s.round.Calls) - i
		}
	}
	s.horses = slices.Clone(s.byName)
	slices.SortStableFunc(s.horses, func(a, b *row) int { return s.told[b.found.Horse.ID] - s.told[a.found.Horse.ID] })
}

// drawRound says how far the day is and who comes next. Exams that are begun stand
// among those that are not finished.
func (s *screen) drawRound(size layout.Size) []string {
	if s.finding || s.find.Text != "" {
		return nil
	}
	if len(s.round.Calls) == 0 && s.far.All > 0 {
		return []string{s.far.Line(s.Deps.Theme, "today's round", "horses", size.W), ""}
	}
	if len(s.round.Calls) == 0 {
		return nil
	}
	t, n := s.Deps.Theme, s.round.Count()
	head := fmt.Sprintf("today's round: %d of %d done", n.Done, n.Total)
	if n.Handed > 0 {
		head += fmt.Sprintf(", %d reassigned", n.Handed)
	}
	lines, most := s.drawUrgent(size), max(size.H/9, 1)
	if len(lines) > 0 {
		most = 1 // leave the lines to them
	}
	var next []string
	for _, c := range s.round.Left() {
		if c.State == round.Waiting && len(next) < most && !s.listed(c.Horse.ID) {
			next = append(next, layout.Cut(s.next(c), size.W))
		}
	}
	if len(next) > 0 {
		head += "; next"
	}
	lines = append(lines, t.Heading.Render(layout.Ends(head, keys.Round().Shown()+" shows all", size.W)))
	lines = append(lines, next...)
	return append(lines, "")
}

// listed says that a horse stands among the checks already.
func (s *screen) listed(id exam.HorseID) bool {
	return slices.ContainsFunc(s.checks, func(r *row) bool { return r.found.Horse.ID == id })
}

// drawUrgent names the horses that the veterinarian has to be told of, the one to call about first before the others, each
// with its danger signs.
func (s *screen) drawUrgent(size layout.Size) []string {
	t := s.Deps.Theme
	var urgent []round.Call
	for _, c := range s.round.Calls {
		if c.Told != nil && c.Told.Open {
			urgent = append(urgent, c)
		}
	}
	if len(urgent) == 0 {
		return nil
	}
	shown := min(len(urgent), max(size.H/9, 1))
	head := t.Word(ranges.LevelTell)
	if more := len(urgent) - shown; more > 0 {
		head += t.Warn.Render(fmt.Sprintf(", %d more on the round", more))
	}
	lines := []string{layout.Pad(head, size.W)}
	for _, c := range urgent[:shown] {
		who := layout.Pad(notation.CleanLine(c.Horse.Name, 0), 16) + " " + notation.CleanLine(c.Horse.Place, 0)
		lines = append(lines, layout.Cut("  "+s.caution(c.Horse, false)+" "+who, size.W))
		for _, line := range layout.Wrap(c.Told.Line(), size.W-4) {
			lines = append(lines, "    "+line)
		}
	}
	return lines
}

// next is one line of who comes next. Where it is to be looked at again at an hour,
// that stands before the place, so that a narrow window does not cut it off.
func (s *screen) next(c round.Call) string {
	text := "  " + s.caution(c.Horse, false) + " " + layout.Pad(notation.CleanLine(c.Horse.Name, 0), 16) + " "
	if c.Group.Last() {
		text += "last: "
	}
	place, why := notation.CleanLine(c.Horse.Place, 0), notation.CleanLine(reason(c, s.Deps.Now()), 0)
	switch {
	case place == "":
		text += why
	case c.Hour.IsZero():
		text += place + " · " + why
	default:
		text += why + " · " + place
	}
	return text
}

// reason is the first reason of a call, or the one with its hour.
func reason(c round.Call, now time.Time) string {
	for _, r := range c.Reasons {
		if !c.Hour.IsZero() && r.Kind == round.Recheck && strings.Contains(r.Words, notation.Clock(c.Hour, now)) {
			return r.Words
		}
	}
	return c.Reasons[0].Words
}
