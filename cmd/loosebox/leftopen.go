package main

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/storage"
)

// leftOpen goes on with the newest rehearsal that was left open, or drops it with a reason.
func (e *env) leftOpen(r *storage.Record, f rehearseFlags) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	d.Cases = e.cases()
	open, err := d.Rehearsals.Unfinished()
	if err != nil {
		return err
	}
	by := notation.CleanLine(f.by, 0)
	for _, v := range open {
		if by != "" && !progress.SamePerson(v.By, by) {
			continue
		}
		if f.drop != "" {
			return e.dropRehearsal(d.Rehearsals, v, f.drop)
		}
		all, _ := d.RehearsalCases()
		c, err := rehearse.CaseOf(v, all, e.steps, e.ranges)
		if err != nil {
			return err
		}
		h, err := rehearse.Again(v, c, e.steps, e.ranges)
		if err != nil {
			return err
		}
		e.tell()
		return e.playLines(d, h, v, v.By)
	}
	return exam.NoSuch("there is no unfinished rehearsal")
}

// dropRehearsal voids a rehearsal that will not be finished: it stays in the record and counts nowhere.
func (e *env) dropRehearsal(store exam.Store, v exam.Visit, why string) error {
	entry := exam.Entry{Visit: v.ID, Kind: exam.EntryStruck, At: e.now(), By: v.By, Amend: &exam.Amendment{Why: exam.AmendReason(notation.CleanNote(why))}}
	if _, _, err := store.Strike(entry, ""); err != nil {
		return fmt.Errorf("the rehearsal is not dropped: %w", err)
	}
	e.say(fmt.Sprintf("Dropped: %s of %s, %s.", notation.CleanLine(v.Horse.Name, 40), notation.Clock(v.OpenedAt, e.now()), shortNumber(v.ID)))
	return nil
}
