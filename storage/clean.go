package storage

import (
	"fmt"
	"time"

	"loosebox/exam"
)

// Bounds of what one line of the record may hold. They keep a hostile or
// broken file from filling the disk; no exam comes near them.
const (
	maxBody    = 256 << 10 // bytes of one entry or horse
	maxEntries = 10000     // lines of one visit
	maxWords   = 64        // choices of one value, states of a context
	maxTaps    = 5000      // presses of one count
	maxTrials  = 100       // times of one stopwatch step
	maxList    = 100       // cautions, reactions, measures
)

// maxName bounds identities of steps, sites, kinds, units and choices.
const maxName = 80

func line[T ~string](s *T) { *s = T(exam.CleanLine(string(*s), 0)) }

func name[T ~string](s *T) { *s = T(exam.CleanLine(string(*s), maxName)) }

// longLine is for paths and keys: no sign that moves a cursor, and room.
func longLine(s *string) { *s = exam.CleanLine(*s, exam.MaxNote) }

func note(s *string) { *s = exam.CleanNote(*s) }

// cleanList cleans a list of words into a list of its own; false where it is too long.
func cleanList[T ~string](list []T, clean func(*T), most int) ([]T, bool) {
	if len(list) == 0 {
		return nil, true
	}
	if len(list) > most {
		return nil, false
	}
	out := append([]T(nil), list...)
	for i := range out {
		clean(&out[i])
	}
	return out, true
}

// cleanTime leaves of a time what can be written: no monotonic reading, an
// offset in whole minutes.
func cleanTime(t time.Time) time.Time {
	t = t.Round(0)
	if _, offset := t.Zone(); offset%60 != 0 {
		return t.UTC()
	}
	return t
}

func tooMuch(what string) error {
	return fmt.Errorf("%s holds more than any exam does: nothing was written", what)
}

func checkSigned(by string, at time.Time) error {
	switch {
	case by == "":
		return fmt.Errorf("a line of the record needs the name of the person who wrote it: nothing was written")
	case at.IsZero():
		return fmt.Errorf("a line of the record needs a time: nothing was written")
	}
	return nil
}

func cleanHorseLine(l horseLine) (horseLine, error) {
	line(&l.By)
	l.At = cleanTime(l.At)
	if err := checkSigned(l.By, l.At); err != nil {
		return l, err
	}
	err := cleanHorse(&l.Horse)
	return l, err
}

func cleanHorse(h *exam.Horse) error {
	name(&h.ID)
	line(&h.Name)
	name(&h.Kind)
	name(&h.Sex)
	name(&h.Dam)
	h.Birth.At = cleanTime(h.Birth.At)
	name(&h.Birth.Precision)
	line(&h.Birth.Basis)
	for _, text := range []*string{&h.Breed, &h.Colour, &h.Markings, &h.Chip, &h.UELN, &h.Owner, &h.OwnerAddress, &h.OwnerPhone, &h.FoalDue, &h.Place} {
		line(text)
	}
	var fits, also bool
	h.Cautions, fits = cleanList(h.Cautions, line, maxList)
	h.Reactions, also = cleanList(h.Reactions, line, maxList)
	if !fits || !also {
		return tooMuch("a list of cautions or reactions")
	}
	return nil
}

// cleanEntry returns the entry with every text safe to store and to draw; what
// the caller holds is not changed.
func cleanEntry(e exam.Entry) (exam.Entry, error) {
	line(&e.By)
	e.At = cleanTime(e.At)
	name(&e.Kind)
	name(&e.Step)
	name(&e.Site)
	line(&e.Reason)
	note(&e.Note)
	e, err := exam.CleanLines(e)
	if err != nil {
		return e, err
	}
	if e.Value != nil {
		v := *e.Value
		err = cleanValue(&v)
		e.Value = &v
	}
	if e.Context != nil && err == nil {
		c := *e.Context
		err = cleanContext(&c)
		e.Context = &c
	}
	if e.Opening != nil && err == nil {
		o := *e.Opening
		line(&o.Routine)
		line(&o.Reason)
		line(&o.Source)
		if o.Entered != nil {
			a := *o.Entered
			name(&a.Instead)
			line(&a.Why)
			line(&a.By)
			a.At = cleanTime(a.At)
			o.Entered = &a
		}
		err = cleanHorse(&o.Horse)
		e.Opening = &o
	}
	return e, err
}

func cleanContext(c *exam.Context) error {
	var fits bool
	c.States, fits = cleanList(c.States, name, maxWords)
	if !fits {
		return tooMuch("a context")
	}
	c.Medicines, fits = cleanList(c.Medicines, name, maxWords)
	if !fits {
		return tooMuch("a context")
	}
	line(&c.Given)
	c.Air, c.Globe = cleanQuantity(c.Air), cleanQuantity(c.Globe)
	note(&c.Note)
	return nil
}

func cleanQuantity(q *exam.Quantity) *exam.Quantity {
	if q == nil {
		return nil
	}
	out := *q
	name(&out.Unit)
	return &out
}

func cleanValue(v *exam.Value) error {
	name(&v.Kind)
	name(&v.Bound)
	v.Number = cleanQuantity(v.Number)
	line(&v.Typed)
	name(&v.Bound)
	note(&v.Text)
	var fits bool
	v.Words, fits = cleanList(v.Words, name, maxWords)
	if !fits || len(v.TrialsS) > maxTrials {
		return tooMuch("a value")
	}
	if v.Count != nil {
		c := *v.Count
		name(&c.Method)
		line(&c.Evenness)
		if len(c.TapsS) > maxTaps || len(c.Answers) > maxTaps {
			return tooMuch("a count")
		}
		v.Count = &c
	}
	if len(v.Parts) > maxList {
		return tooMuch("a score")
	}
	if len(v.Parts) > 0 {
		parts := make(map[string]float64, len(v.Parts))
		for k, score := range v.Parts {
			name(&k)
			parts[k] = score
		}
		v.Parts = parts
	}
	if v.Weight != nil {
		w := *v.Weight
		name(&w.Method)
		line(&w.Equation)
		if len(w.Measures) > maxList {
			return tooMuch("a weight")
		}
		measures := make(map[string]exam.Quantity, len(w.Measures))
		for k, q := range w.Measures {
			name(&k)
			name(&q.Unit)
			measures[k] = q
		}
		w.Measures = measures
		v.Weight = &w
	}
	return nil
}

func cleanSettings(s exam.Settings) exam.Settings {
	line(&s.Person)
	longLine(&s.BackupFolder)
	longLine(&s.BackupRecipient)
	line(&s.Routine)
	name(&s.Theme)
	scatter := make(map[string]exam.Scatter, len(s.Scatter))
	for person, own := range s.Scatter {
		line(&person)
		own.At = cleanTime(own.At)
		scatter[person] = own
	}
	s.Scatter = scatter
	units := make(map[exam.Unit]exam.Unit, len(s.Units))
	for from, to := range s.Units {
		name(&from)
		name(&to)
		units[from] = to
	}
	s.Units = units
	return s
}
