package rehearse

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
)

// NewSeed is a seed that a person can type again, out of the clock.
func NewSeed(now time.Time) uint64 { return uint64(now.UnixMilli())%899_999 + 100_001 }

// Beginning is what a rehearsal is begun with.
type Beginning struct {
	Case    rehearse.Case
	Seed    uint64
	Routine string
	By      string
	Modes   rehearse.Modes
}

// atRehearsals is the desk of the rehearsals: what is written there is in no horse's record.
func atRehearsals(d *nav.Deps) desk.Desk {
	at := d.Desk
	at.Store = d.Rehearsals
	return at
}

// Begin draws the horse and opens its visit in the store of rehearsals, durable
// when it returns.
func Begin(d *nav.Deps, o Beginning) (*rehearse.Horse, exam.Visit, error) {
	now, at := d.Now(), atRehearsals(d)
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
	if o.Modes != (rehearse.Modes{}) {
		e := o.Modes.Entry()
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
