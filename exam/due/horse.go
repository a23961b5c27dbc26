package due

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// subject is a horse as the schedule sees it on a day.
type subject struct {
	horse       exam.Horse
	today       time.Time
	born, late  time.Time // earliest and latest day of birth
	knownBirth  bool
	foal        bool // under a year
	unvaccDam   bool // its mare was not vaccinated, or nobody knows
	mare        bool // in foal
	foaling     time.Time
	knowFoaling bool
	notes       []string
}

// look reads a horse for the schedule and notes what is not known.
func look(h exam.Horse, now time.Time) *subject {
	s := &subject{horse: h, today: day(now)}
	s.born, s.late, s.knownBirth = birth(h.Birth, now)
	switch {
	case s.knownBirth:
		s.foal = addMonths(s.late, 12).After(s.today)
		if s.foal && s.late.Sub(s.born) > 31*24*time.Hour {
			s.note("only the year of birth is recorded, so times from birth cannot be worked out")
			s.knownBirth = false
		}
	case h.Birth.Precision == exam.BornFoal:
		s.foal = true
		s.note("the birth date of this foal is not recorded, so times from birth cannot be worked out")
	case h.Birth.Precision == exam.BornAdult:
	default:
		s.note("the birth date is not recorded: treated as an adult")
	}
	if s.foal {
		s.readDam()
	}
	if h.InFoal && h.Sex.Female() && !s.foal {
		s.readFoaling()
	}
	return s
}

func (s *subject) note(format string, args ...any) {
	s.notes = append(s.notes, fmt.Sprintf(format, args...))
}

func (s *subject) readDam() {
	switch s.horse.Dam {
	case exam.DamVaccine:
	case exam.DamUnvaccinated:
		s.unvaccDam = true
	default:
		// The earlier of the two windows leaves the foal uncovered for less long; that it is the rule is from memory.
		s.unvaccDam = true
		s.note("the dam's vaccination is not recorded: treated as not vaccinated, which begins earlier")
	}
}

func (s *subject) readFoaling() {
	s.mare = true
	t, err := time.Parse(notation.DayForm, s.horse.FoalDue)
	switch {
	case s.horse.FoalDue == "" || err != nil:
		s.note("the foaling date is not recorded, so times before foaling cannot be worked out")
	case t.AddDate(0, 0, 30).Before(s.today):
		s.note("the foal was expected on %s: record whether the mare has foaled", notation.Shown(s.horse.FoalDue))
	default:
		s.foaling, s.knowFoaling = t, true
	}
}

// conceived is the day from which gestation is reckoned.
func (s *subject) conceived() time.Time { return s.foaling.AddDate(0, 0, -gestationDays) }

// Part is a part of the schedule of vaccinations.
type Part string

// The parts.
const (
	FoalOfUnvaccinated Part = "foal of a mare not vaccinated"
	FoalOfVaccinated   Part = "foal of a vaccinated mare"
	MareInFoal         Part = "mare in foal"
	Adult              Part = "adult"
)

// part is the part of the schedule that holds for the horse.
func (s *subject) part() Part {
	switch {
	case s.foal && s.unvaccDam:
		return FoalOfUnvaccinated
	case s.foal:
		return FoalOfVaccinated
	case s.mare:
		return MareInFoal
	}
	return Adult
}

// window is a span of days in which something is due.
type window struct {
	from, by time.Time
	known    bool
}

// window computes a span of the schedule; before is the dose before it.
func (s *subject) window(w When, before *GivenDose) window {
	switch w.Base {
	case Now:
		return window{s.today, s.today, true}
	case Age:
		if !s.knownBirth {
			return window{}
		}
		out := window{w.add(s.late, w.Low), w.add(s.born, w.High), true}
		if w.Open || out.by.Before(out.from) {
			out.by = out.from
		}
		return out
	case After, Every:
		if before == nil {
			return window{}
		}
		return window{w.add(before.On, w.Low), w.add(before.On, w.High), true}
	case Foaling:
		if !s.knowFoaling {
			return window{}
		}
		return window{w.add(s.foaling, -w.High), w.add(s.foaling, -w.Low), true}
	case Gestation:
		if !s.knowFoaling {
			return window{}
		}
		return window{addMonths(s.conceived(), w.Low), addMonths(s.conceived(), w.High+1).AddDate(0, 0, -1), true}
	case Never, Pregnancy, InWords:
	}
	return window{}
}

// stepWindow is when the dose of a number is due. A dose that is due by age is
// never due sooner after the one before than the second dose after the first:
// the charts give ages for a series that began in time, and this is the program's
// own rule for one that did not.
func (s *subject) stepWindow(row ScheduleRow, n int, before *GivenDose) window {
	w := s.window(row.Step(n), before)
	if n < 2 || before == nil || !w.known || row.Step(n).Base != Age || row.Second.Base != After {
		return w
	}
	gap := s.window(row.Second, before)
	if w.from.Before(gap.from) {
		w.from = gap.from
	}
	if w.by.Before(gap.by) {
		w.by = gap.by
	}
	return w
}
