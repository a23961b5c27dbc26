package rehearse

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
)

// NewSeed is a seed of six digits from the clock, short enough to type again.
func NewSeed(now time.Time) uint64 { return uint64(now.UnixMilli())%899_999 + 100_001 }

// Beginning is what a rehearsal is begun with.
type Beginning struct {
	Case    rehearse.Case
	Seed    uint64
	Routine string
	By      string
	Modes   rehearse.Modes
	First   []exam.Entry // what is kept behind the opening besides, as of a set exam
}

// atRehearsals is a desk that writes to the store of rehearsals, apart from the record.
func atRehearsals(d *nav.Deps) desk.Desk {
	at := d.Desk
	at.Store = d.Rehearsals
	return at
}

// Begin draws the horse and opens its visit in the store of rehearsals, durable
// when it returns.
func Begin(d *nav.Deps, o Beginning) (*rehearse.Horse, exam.Visit, error) {
	now, at := d.Now(), atRehearsals(d)
	o.Modes = rehearse.DrillModes(o.Routine, o.Modes)
	failed := func(err error) (*rehearse.Horse, exam.Visit, error) {
		return nil, exam.Visit{}, fmt.Errorf("the rehearsal is NOT opened: %w", err)
	}
	h, err := rehearse.New(o.Case, o.Seed, now, d.Steps, d.Ranges)
	if err != nil {
		return failed(err)
	}
	animal, err := at.Store.SaveHorse(h.Animal, o.By, now)
	if err != nil {
		return failed(err)
	}
	opened, err := at.Begin(*h.Opening(animal, o.Routine), exam.Context{}, o.By, now)
	if err != nil {
		return failed(err)
	}
	v := opened.Visit
	first := rehearse.CaseEntries(o.Case)
	if o.Modes != (rehearse.Modes{}) {
		first = append(first, o.Modes.Entry())
	}
	first = append(first, o.First...)
	for _, e := range first {
		e.Visit, e.At, e.By = v.ID, now, o.By
		if e, err = at.Write(e); err == nil {
			err = v.Apply(e)
		}
		if err != nil {
			return failed(err)
		}
	}
	return h, v, nil
}

// SetBeginning is what a set exam is begun with. The error says that its time is over, that every attempt was made, or
// that its case or routine is not here.
func SetBeginning(d *nav.Deps, set rehearse.Set, cases []rehearse.Case, by string) (Beginning, error) {
	c, err := set.CaseOf(cases, d.Steps, d.Ranges)
	if err != nil {
		return Beginning{}, err
	}
	if !set.Deadline.IsZero() && d.Now().After(set.Deadline) {
		return Beginning{}, &notation.Refusal{Why: "the exam closed at " + notation.ShownAt(set.Deadline, d.Now())}
	}
	taken, err := SetTaken(d, set, by)
	if err != nil {
		return Beginning{}, err
	}
	if set.Attempts > 0 && taken >= set.Attempts {
		return Beginning{}, &notation.Refusal{Why: fmt.Sprintf("%s has taken this exam; attempts allowed: %d", notation.CleanLine(by, 40), set.Attempts)}
	}
	routine := set.Routine
	if routine == "" {
		routine = c.Routine
	}
	if !slices.ContainsFunc(d.Routines, func(r exam.Routine) bool { return r.Name == routine }) {
		return Beginning{}, exam.NoSuch("the exam is taken with the routine %q, which is not here", routine)
	}
	return Beginning{Case: c, Seed: set.Seed, Routine: routine, By: by, Modes: set.Modes, First: set.Entries()}, nil
}

// SetTaken is how often a person began a set exam in this record.
func SetTaken(d *nav.Deps, set rehearse.Set, by string) (int, error) {
	all, err := d.Rehearsals.Recent(0)
	if err != nil {
		return 0, fmt.Errorf("the rehearsals cannot be read, nothing was begun: %w", err)
	}
	n := 0
	for _, v := range all {
		if s, ok := rehearse.SetIn(v, d.Steps); ok && s.Digest == set.Digest && strings.EqualFold(v.By, by) {
			n++
		}
	}
	return n, nil
}
