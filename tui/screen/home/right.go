package home

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// Right says how many horses are in the record.
func (s *screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return s.arrivals() + s.settling() + s.sharing() + notation.Counted(len(s.horses), "horse")
}

// arrivals says how many visits came in from other laptops since yesterday.
func (s *screen) arrivals() string {
	if s.arrived == 0 {
		return ""
	}
	return fmt.Sprintf("%d arrived · ", s.arrived)
}

// settling says that two laptops wrote something in two ways, or that a horse may be entered
// twice; ctrl+t lists it.
func (s *screen) settling() string {
	if s.unsettled == 0 {
		return ""
	}
	return fmt.Sprintf("%d to settle · ", s.unsettled)
}

// sharing says when was shared last and what waits; empty where this laptop works alone.
func (s *screen) sharing() string {
	m := s.shared
	switch now := s.Deps.Now(); {
	case m.Out:
		return "out of the practice · "
	case apart(m.Waiting):
		return waits(m.Waiting) + " · " // the time of the last exchange is that of one of them
	case m.At.IsZero():
		return ""
	case notation.SameDay(m.At, now):
		return fmt.Sprintf("shared %s, %s · ", notation.Clock(m.At, now), waits(m.Waiting))
	default:
		return fmt.Sprintf("shared %s, %s · ", m.At.In(now.Location()).Format("2 Jan"), waits(m.Waiting))
	}
}

// apart says that folder and hub do not wait for the same.
func apart(list []nav.Waits) bool {
	return slices.ContainsFunc(list, func(w nav.Waits) bool { return w.Lines != list[0].Lines })
}

// waits says what waits to be sent, and where folder and hub do not wait for the same, to which of them.
func waits(list []nav.Waits) string {
	var behind []string
	for _, w := range list {
		if w.Lines > 0 {
			behind = append(behind, fmt.Sprintf("%s %d", w.Place, w.Lines))
		}
	}
	switch {
	case len(behind) == 0:
		return "all sent"
	case apart(list):
		return strings.Join(behind, ", ") + " to send"
	}
	return notation.Counted(list[0].Lines, "line") + " to send"
}
