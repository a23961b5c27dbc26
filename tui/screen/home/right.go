package home

import (
	"fmt"
	"time"

	"loosebox/exam/notation"
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
	case m.At.IsZero():
		return ""
	case m.At.Local().Format(time.DateOnly) == now.Local().Format(time.DateOnly):
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("15:04"), waits(m.Waiting))
	default:
		return fmt.Sprintf("shared %s, %s · ", m.At.Local().Format("2 Jan"), waits(m.Waiting))
	}
}

func waits(n int) string {
	if n == 0 {
		return "all sent"
	}
	return notation.Counted(n, "line") + " to send"
}
