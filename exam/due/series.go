package due

import (
	"fmt"
	"time"
)

// standing is how the doses of a horse stand against one row.
type standing struct {
	row     ScheduleRow
	counted []GivenDose // doses that count towards the series, in order
	last    *GivenDose  // the last dose that counts
	says    []string
}

func (s *standing) say(format string, args ...any) {
	s.says = append(s.says, fmt.Sprintf(format, args...))
}

// done says that the first series is whole.
func (s *standing) done() bool { return len(s.counted) >= s.row.Doses }

// count sets doses beside the steps of a series. A dose before its time is not
// counted, a late one is, and both are said: what follows from it is the
// veterinarian's. A day that is not known exactly gets the benefit of the doubt.
func (s *subject) count(row ScheduleRow, doses []GivenDose) standing {
	st := standing{row: row}
	for i := range doses {
		d := &doses[i]
		if d.SeriesDone {
			for len(st.counted) < row.Doses {
				st.counted = append(st.counted, *d)
			}
			st.last = d
			continue
		}
		n := len(st.counted) + 1
		if n > row.Doses {
			st.counted, st.last = append(st.counted, *d), d
			continue
		}
		w := row.Step(n)
		span := s.stepWindow(row, n, st.last)
		// A window before foaling is no reason to leave out what was given earlier in life.
		dated := span.known && (w.Base == Age || w.Base == After || w.Base == Gestation && row.Again.Base == Pregnancy)
		if row.Doses == 1 && w.Base == Age && !s.foal {
			dated = false
		}
		switch {
		case dated && d.Latest.Before(span.from):
			st.say("the dose of %s does not count as dose %d: it was %s too early (%s)", d.Day(), n, days(d.Latest, span.from), w)
			continue
		case dated && w.Base == After && d.On.After(span.by):
			st.say("dose %d of %s was %s late (%s): ask the veterinarian whether the series begins again", n, d.Day(), days(span.by, d.On), w)
		}
		st.counted, st.last = append(st.counted, *d), d
	}
	if len(st.counted) > row.Doses {
		st.says = nil // long past: the doses since then say more
	}
	if row.DosesMost > row.Doses && len(st.counted) == row.Doses {
		st.say("the label may ask for dose %d%s", row.DosesMost, later(row.Step(row.DosesMost)))
	}
	return st
}

func later(w When) string {
	if w.Base == Never {
		return ""
	}
	return ", " + w.String()
}

// days writes the days between two days.
func days(from, to time.Time) string {
	n := int(to.Sub(from).Hours() / 24)
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// inPregnancy keeps the doses given since conception, for what is given again in
// each pregnancy.
func (s *subject) inPregnancy(doses []GivenDose) []GivenDose {
	var out []GivenDose
	for _, d := range doses {
		if !d.On.Before(s.conceived()) {
			out = append(out, d)
		}
	}
	return out
}
