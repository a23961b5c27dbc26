package review

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// handOffNow is the first of the ways on.
const handOffNow = "hand off now"

// waysOn lists what can be done when a visit is closed with something for the veterinarian
// that is not handed off: hand off now, or close it for a reason.
func waysOn() []string {
	ways := []string{handOffNow}
	for _, reason := range exam.NoHandOffs() {
		ways = append(ways, reason.String())
	}
	return ways
}

// pressUntold leads to the hand-off, or on to closing with the reason chosen.
func (s *screen) pressUntold(p keys.Press) tea.Cmd {
	ways := waysOn()
	switch {
	case keys.Up().Is(p):
		s.choice = (s.choice + len(ways) - 1) % len(ways)
	case keys.Down().Is(p):
		s.choice = (s.choice + 1) % len(ways)
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(ways) {
			s.choice = i
		}
	case keys.Accept().Is(p) && s.choice == 0:
		s.untold = false
		return nav.Go(nav.Address{Screen: nav.HandOff, Horse: s.Visit.Horse.ID, Visit: s.id})
	case keys.Accept().Is(p):
		s.untold, s.without = false, exam.NoHandOffs()[s.choice-1]
		s.closing, s.reason = true, noReason
	}
	return nil
}

func (s *screen) drawUntold(width int) []string {
	t := s.Deps.Theme
	what, _ := authorization.Untold(s.Visit, s.Verdict.Remarks)
	out := []string{t.Across(width), t.Strong.Render(layout.Cut("For the veterinarian, and not handed off:", width))}
	lines := layout.Wrap(notation.CleanNote(what)+".", width)
	if len(lines) > 2 {
		lines = append(lines[:1], layout.Cut(lines[1], width-3)+" ..")
	}
	out = append(out, lines...)
	for i, way := range waysOn() {
		text := fmt.Sprintf("  %d %s", i+1, way)
		if i == s.choice {
			text = t.Cursor.Render(fmt.Sprintf("%s %d %s", t.Sign.Cursor, i+1, way))
		}
		out = append(out, text)
	}
	return out
}

// withoutHandOff says that the visit was closed so, and why.
func withoutHandOff(v exam.Visit) []string {
	if v.WithoutHandOff == "" {
		return nil
	}
	return []string{"Closed without a hand-off: " + notation.CleanNote(v.WithoutHandOff.String()) + "."}
}
