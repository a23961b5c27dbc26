package entry

import "time"

// timed is a field that measures from a press.
type timed interface {
	// began is when the count or time that stands was begun, zero where nothing
	// was, and whether it still runs.
	began() (at time.Time, running bool)
}

// Began is when the count or stopwatch at the present site was started, and whether it still runs; the zero time where
// nothing was timed.
func (s *Sites) Began() (at time.Time, running bool) {
	if f, ok := s.field().(timed); ok {
		return f.began()
	}
	return time.Time{}, false
}

func (c *count) began() (time.Time, bool) {
	switch {
	case c.ear != nil:
		return c.ear.began()
	case c.taps.Taps() == 0:
		return time.Time{}, false
	}
	return c.started, !c.done
}

func (e *ear) began() (time.Time, bool) {
	switch e.stage {
	case earRun, earType:
		return e.started, e.stage == earRun
	case earChoose, earReady, earRead:
	}
	return time.Time{}, false
}

// began is of the last trial.
func (w *stopwatch) began() (time.Time, bool) {
	if !w.running && len(w.trials) == 0 {
		return time.Time{}, false
	}
	return w.started, w.running
}
