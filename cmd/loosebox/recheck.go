package main

import (
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// recheckFlags are what a recheck is made of.
type recheckFlags struct {
	on, what, why, by string
	corrects          int
	asJSON            bool
}

func (e *env) recheckCommand() *cobra.Command {
	var f recheckFlags
	c := &cobra.Command{
		Use: "follow-up VISIT", Short: "set when something is looked at again", Args: cobra.ExactArgs(1),
		Long: `follow-up sets a day, or a time of it, at which something of a visit is looked at
again; due and round list it from then on. The moment that was understood is said
before it is written. --corrects ENTRY puts right one that was set.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.ofVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.recheck(r, id, f) })
		},
	}
	c.Flags().StringVar(&f.on, "on", "", "when: 1h, \"90 min\", 20:00, tonight, \"tomorrow 8:00\", Mon, 3d, \"next week\", 2026-03-04")
	c.Flags().StringVar(&f.what, "what", "", "what is looked at again, in a few words")
	c.Flags().IntVar(&f.corrects, "corrects", 0, "the entry that set the recheck which this one puts right")
	c.Flags().StringVar(&f.why, "reason", "", "why it is written only now; needed once the visit is closed")
	c.Flags().StringVar(&f.by, "by", "", "who sets it; the person of this machine where it is left out")
	c.Flags().BoolVar(&f.asJSON, "json", false, "one JSON object")
	return c
}

func (e *env) recheck(r *storage.Record, id exam.VisitID, f recheckFlags) error {
	v, err := findVisit(r, id)
	if err != nil {
		return err
	}
	when, err := notation.ReadMoment(f.on, e.now())
	switch {
	case err != nil:
		return usage("--on: %v", err)
	case notation.CleanLine(f.what, 0) == "":
		return usage("say what is looked at again: --what TEXT")
	case f.corrects > 0 && v.RecheckOf(f.corrects) == nil:
		return usage("entry %d of this visit set no recheck", f.corrects)
	}
	for _, d := range v.Decisions {
		if f.corrects > 0 && d.Seq == f.corrects {
			return usage("that recheck was set with a decision; loosebox decide %s --corrects %d puts both right", v.ID, f.corrects)
		}
	}
	e.say("Recheck " + when.Words(e.now()) + ".")
	line := exam.RecheckAt(when, f.what)
	entry := exam.Entry{
		Visit: v.ID, Kind: exam.EntryNote, At: e.now(), Corrects: f.corrects, Reason: f.why, Recheck: &line,
	}
	if entry.By, err = e.person(r, f.by); err != nil {
		return err
	}
	return e.writeDown(r, entry, "loosebox/follow-up/1", f.asJSON)
}
