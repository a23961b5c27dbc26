package home

import (
	"fmt"
	"slices"
	"time"

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
	case m.At.IsZero():
		return ""
	case m.At.Local().Format(time.DateOnly) == now.Local().Format(time.DateOnly):
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("15:04"), waits(m.Waiting))
	default:
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("2 Jan"), waits(m.Waiting))
	}
}

// waits says what waits to be sent, and where folder and hub do not wait for the same, to which of them.
func waits(list []nav.Waits) string {
	behind := slices.DeleteFunc(slices.Clone(list), func(w nav.Waits) bool { return w.Lines == 0 })
	if len(behind) == 0 {
		return "all sent"
	}
	last := behind[len(behind)-1]
	if len(behind) == len(list) && !slices.ContainsFunc(behind, func(w nav.Waits) bool { return w.Lines != last.Lines }) {
		return notation.Counted(last.Lines, "line") + " to send"
	}
	text := ""
	for _, w := range behind[:len(behind)-1] {
		text += fmt.Sprintf("%s: %d, ", w.Place, w.Lines)
	}
	return fmt.Sprintf("%s%s: %s to send", text, last.Place, notation.Counted(last.Lines, "line"))
}
