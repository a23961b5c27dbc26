package nav

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/compare"
	"loosebox/exam/handoff"
	"loosebox/exam/judge"
	"loosebox/exam/procedure"
)

// Seen is a visit with what belongs to it when it is read.
type Seen struct {
	Visit   exam.Visit
	Earlier []exam.Visit // of the horse, newest first
	All     []exam.Visit // of the horse, this one among them, newest first
	Verdict judge.Verdict
	Left    []exam.Key // places of the routine not answered yet
	// Coverage is how much of the routine is answered.
	Coverage exam.Coverage
}

// See reads a visit. It waits for the store: only commands call it. Errors are
// sentences.
func (d *Deps) See(id exam.VisitID) (Seen, error) {
	v, err := d.Store.Visit(id)
	if err != nil {
		return Seen{}, fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)
	}
	past, err := d.Store.Past(v.Horse.ID, 0)
	if err != nil {
		return Seen{}, fmt.Errorf("earlier visits cannot be read; nothing was changed: %w", err)
	}
	s := Seen{Visit: v, All: past}
	for _, p := range past {
		if p.ID != id && p.OpenedAt.Before(v.OpenedAt) {
			s.Earlier = append(s.Earlier, p)
		}
	}
	s.Verdict, s.Coverage = d.Judge.Ended(v, s.Earlier), v.CoverageIn(d.Routines, d.Steps)
	for _, r := range d.Routines {
		if r.Name == v.Routine {
			s.Left = v.Left(r.For(v.Class(), d.Steps))
		}
	}
	return s, nil
}

// Page makes the hand-off page of a visit that was read.
func (d *Deps) Page(s Seen, asked, by string, now time.Time) handoff.Page {
	columns, earlier := []exam.Visit{s.Visit}, exam.LookedAt(s.Earlier)
	if len(earlier) > 0 {
		columns, earlier = append(columns, earlier[0]), earlier[1:]
	}
	table := compare.Visits(columns, earlier, d.Judge, d.Steps)
	table.Cover(columns, d.Routines, d.Steps)
	return handoff.Make(handoff.Input{
		Visit: s.Visit, Earlier: s.Earlier, Verdict: s.Verdict, Left: s.Left, Coverage: s.Coverage, Steps: d.Steps, Asked: asked, By: by, Now: now,
		Table: table,
	})
}

// Person is who signs what is written into a visit now: the person of this
// machine, or who began the visit.
func (d *Deps) Person(v exam.Visit) string {
	if d.Settings.Person != "" {
		return d.Settings.Person
	}
	return v.By
}

// Write asks the one gate about an entry, on the visit as the store has it now,
// and adds it; only commands call it. In a closed visit it is added later, for the
// entry's reason. What
// is refused is a *exam.Refusal or wraps exam.ErrRefused; nothing was written then.
func (d *Deps) Write(e exam.Entry) (exam.Entry, error) {
	s, err := d.See(e.Visit)
	if err != nil {
		return e, err
	}
	if err := exam.Admit(s.Visit, s.Verdict.Remarks, e); err != nil {
		return e, err
	}
	switch {
	case e.Corrects > 0: // of the kind that it corrects
		entries, err := d.Store.Entries(e.Visit)
		if err != nil {
			return e, err
		}
		if e.Corrects <= len(entries) {
			e.Kind = entries[e.Corrects-1].Kind
		}
	case s.Visit.Closed() && e.Kind != exam.EntryClosed:
		e.Kind = exam.EntryAdded
	}
	if s.Visit.Closed() && e.Amend == nil && e.Reason != "" {
		e.Amend = &exam.Amendment{Why: e.Reason}
	}
	stored, err := d.Store.Append(e)
	if err != nil {
		return e, fmt.Errorf("that is NOT stored, everything before it is: %w", err)
	}
	return stored, nil
}

// Following lists what follows the exam of a visit that was read.
func (d *Deps) Following(s Seen) []after.Line {
	return after.Lines(after.Input{
		Visit: s.Visit, Remarks: s.Verdict.Remarks, Left: len(s.Left), WatchMinutes: procedure.RulesOf(d.Settings).WatchMinutes, Now: d.Now(),
	})
}
