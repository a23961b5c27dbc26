// Package desk is where a visit is read together with what it is judged by, and the one gate through which screens, prompts
// and commands open visits and write entries. Nothing here draws or asks.
package desk

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/authorization"
	"loosebox/exam/compare"
	"loosebox/exam/handoff"
	"loosebox/exam/judge"
	"loosebox/exam/procedure"
)

// Desk reads and writes the visits of one store. Its methods wait for the store: screens call them in commands. Errors are
// sentences for a person. It is not changed once made, and safe for several goroutines.
type Desk struct {
	Store    exam.Store
	Steps    *exam.Steps
	Routines []exam.Routine
	Judge    *judge.Judge
	Waits    *exam.Waits // of this run; nil where only the clock on the wall is known
}

// Judged is a visit with what belongs to it, as it stood when it was read.
type Judged struct {
	Visit   exam.Visit
	Earlier []exam.Visit // of the horse, newest first
	All     []exam.Visit // of the horse, this one among them, newest first
	Verdict judge.Verdict
	Left    []exam.Key // places of the routine not answered yet
	// Coverage is how much of the routine is answered.
	Coverage exam.Coverage
	// AtOnce are visits of the horse that were open at the same time on another laptop.
	AtOnce []exam.Visit
}

// Read reads a visit, the horse's other visits, and judges it.
func (d Desk) Read(id exam.VisitID) (Judged, error) {
	v, err := d.Store.Visit(id)
	if err != nil {
		return Judged{}, fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)
	}
	past, err := d.Store.Past(v.Horse.ID, 0)
	if err != nil {
		return Judged{}, fmt.Errorf("earlier visits cannot be read; nothing was changed: %w", err)
	}
	j := Judged{Visit: v, All: past, Earlier: v.Before(past), Coverage: v.CoverageIn(d.Routines, d.Steps)}
	j.Verdict = d.Judge.Ended(v, j.Earlier)
	for _, r := range d.Routines {
		if r.Name == v.Routine {
			j.Left = v.Left(r.For(v.Class(), d.Steps))
		}
	}
	if j.AtOnce, err = d.atOnce(v, past); err != nil {
		return Judged{}, fmt.Errorf("another exam of this horse cannot be read; nothing was changed: %w", err)
	}
	return j, nil
}

// atOnce reads which of a horse's visits were open on another laptop while a visit was.
func (d Desk) atOnce(v exam.Visit, past []exam.Visit) ([]exam.Visit, error) {
	var out []exam.Visit
	for _, o := range past {
		if !v.OpenWith(o) {
			continue
		}
		o, err := d.Store.Visit(o.ID) // a list says of open visits alone on which laptop they are
		if err != nil {
			return nil, err
		}
		if o.HeldOn() != v.HeldOn() {
			out = append(out, o)
		}
	}
	return out, nil
}

// recent is how many of the newest visits are looked at for what was begun after closing: more than a yard sees in a day.
const recent = 30

// Waiting lists the visits that wait for somebody: those that are not closed, and closed ones in which a needle is in, or a
// watch runs or is still to be begun, of what was ordered after closing.
func (d Desk) Waiting() ([]exam.Visit, error) {
	out, err := d.Store.Unfinished()
	if err != nil {
		return nil, err
	}
	last, err := d.Store.Recent(recent)
	if err != nil {
		return nil, err
	}
	for _, v := range last {
		if v.Closed() && v.Stands() && (authorization.CheckClose(v, v.OpenedAt) != nil || len(v.ToWatch()) > 0) {
			out = append(out, v)
		}
	}
	return out, nil
}

// Page makes the hand-off page of a visit: asked is what the veterinarian is asked, by who reads it, now the time of reading.
func (d Desk) Page(j Judged, asked, by string, set exam.Settings, now time.Time) handoff.Page {
	columns, earlier := []exam.Visit{j.Visit}, exam.LookedAt(j.Earlier)
	if len(earlier) > 0 {
		columns, earlier = append(columns, earlier[0]), earlier[1:]
	}
	table := compare.VisitsIn(set.Units, columns, earlier, d.Judge, d.Steps)
	table.Cover(columns, d.Routines, d.Steps)
	return handoff.Make(handoff.Input{
		Visit: j.Visit.As(set.Units, d.Steps), Earlier: exam.VisitsAs(j.Earlier, set.Units, d.Steps), Verdict: j.Verdict, Left: j.Left, Coverage: j.Coverage, Steps: d.Steps, Asked: asked, By: by, Now: now,
		Table: table, Call: set.Call(),
	})
}

// Following lists what follows the exam of a visit by the practice's settings.
func (d Desk) Following(j Judged, set exam.Settings, now time.Time) []after.Task {
	return after.Lines(after.Input{
		Visit: j.Visit, Remarks: j.Verdict.Remarks, Left: len(j.Left), WatchMinutes: procedure.RulesOf(set).WatchMinutes, Waits: d.Waits, Now: now,
	})
}
