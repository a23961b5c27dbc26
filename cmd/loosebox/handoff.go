package main

import (
	"slices"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/handoff"
	"loosebox/storage"
)

func (e *env) handoffCommand() *cobra.Command {
	var asked string
	var asJSON bool
	c := &cobra.Command{
		Use: "handoff VISIT", Short: "the page to read to the veterinarian, in under a minute", Args: cobra.ExactArgs(1),
		Long: `handoff prints what is read to the veterinarian: who, why, what is out of range
in order of level, what was not done and why, what is asked. Under it stand the
S and O of a SOAP note; assessment and plan are the veterinarian's and stay empty.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.record(func(r *storage.Record) error { return e.handoff(r, exam.VisitID(args[0]), asked, asJSON) })
		},
	}
	c.Flags().StringVar(&asked, "ask", "", "what is asked of the veterinarian; without it whether to go ahead, wait or stop")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

func (e *env) handoff(store exam.Store, id exam.VisitID, asked string, asJSON bool) error {
	page, err := e.page(store, id)
	if err != nil {
		return err
	}
	if !page.Visit.Stands() {
		e.say("This visit was struck and does not count; it is not to be handed off.")
	}
	earlier, err := before(store, page.Visit)
	if err != nil {
		return err
	}
	all := slices.Concat([]exam.Visit{page.Visit}, exam.LookedAt(earlier))
	columns := min(2, len(all))
	out := handoff.Make(handoff.Input{
		Visit: page.Visit, Earlier: earlier, Verdict: page.Verdict, Left: page.Left, Steps: e.steps, Asked: asked, Now: e.now(),
		Table: compare.Visits(all[:columns], all[columns:], e.judge, e.steps),
	})
	if asJSON {
		return e.printJSON(out.Document())
	}
	return e.printf("%s", out.Text(pageWidth))
}
