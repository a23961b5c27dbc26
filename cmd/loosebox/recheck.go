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
		Use: "follow-up VISIT", Short: "set a follow-up", Args: cobra.ExactArgs(1),
		Long: `follow-up sets a day or time at which something of a visit is checked again. due
and round list it. It prints the time as it was understood before it is saved.
--corrects ENTRY corrects a follow-up.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.recheck(r, id, f) })
		},
	}
	c.Flags().StringVar(&f.on, "on", "", "when: 1h, \"90 min\", 20:00, tonight, \"tomorrow 8:00\", Mon, 3d, \"next week\", 2026-03-04")
	c.Flags().StringVar(&f.what, "what", "", "what is to be checked then")
	correctsFlag(c, &f.corrects, "follow-up")
	c.Flags().StringVar(&f.why, "reason", "", "why it is added late; needed once the visit is closed")
	byFlag(c, &f.by, "who sets it")
	jsonFlag(c, &f.asJSON)
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
		return usage("type what is to be checked: --what TEXT")
	case f.corrects > 0 && v.RecheckOf(f.corrects) == nil:
		return usage("entry %d of this visit is not a follow-up", f.corrects)
	}
	for _, d := range v.Decisions {
		if f.corrects > 0 && d.Seq == f.corrects {
			return usage("that follow-up was set with a decision; loosebox decide %s --corrects %d corrects both", v.ID, f.corrects)
		}
	}
	e.say("Follow-up " + when.Words(e.now()) + ".")
	line := exam.RecheckAt(when, f.what)
	entry := exam.Entry{
		Visit: v.ID, Kind: exam.EntryNote, At: e.now(), Corrects: f.corrects, Reason: f.why, Recheck: &line,
	}
	if entry.By, err = e.person(r, f.by); err != nil {
		return err
	}
	return e.writeDown(r, entry, "loosebox/follow-up/1", f.asJSON)
}
