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
	var told toldFlags
	c := &cobra.Command{
		Use: "handoff VISIT", Short: "the page to read to the veterinarian, in under a minute", Args: cobra.ExactArgs(1),
		Long: `handoff prints what is read to the veterinarian: who, why, what is out of range
in order of level, what was not done and why, what is asked. Under it stand the
S and O of a SOAP note; assessment and plan are the veterinarian's and stay empty.
With --to it writes down that the page was read: to whom, how, what was asked, and
whether the other side said it back.`,
		Example: `  loosebox handoff VISIT
  loosebox handoff VISIT --to "Dr Vale" --how "by telephone" --ask "May he travel?" --read-back --by "Ann Bell"`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.record(func(r *storage.Record) error {
				if told.to != "" {
					return e.handed(r, exam.VisitID(args[0]), asked, told, asJSON)
				}
				return e.handoff(r, exam.VisitID(args[0]), asked, asJSON)
			})
		},
	}
	c.Flags().StringVar(&asked, "ask", "", "what is asked of the veterinarian; without it whether to go ahead, wait or stop")
	c.Flags().StringVar(&told.to, "to", "", "write down that it was read to this veterinarian")
	c.Flags().StringVar(&told.how, "how", "", "with --to: here or by telephone")
	c.Flags().BoolVar(&told.readBack, "read-back", false, "with --to: the other side said it back and it was right")
	c.Flags().StringVar(&told.by, "by", "", "with --to: who read it; the person of this machine where it is left out")
	c.Flags().StringVar(&told.why, "reason", "", "with --to: why it is written only now; needed once the visit is closed")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

// toldFlags say how the page was read.
type toldFlags struct {
	to, how, by, why string
	readBack         bool
}

// handed writes down that the page was read.
func (e *env) handed(r *storage.Record, id exam.VisitID, asked string, f toldFlags, asJSON bool) error {
	_, d, seen, err := e.seen(r, id)
	if err != nil {
		return err
	}
	how, err := meant("--how", f.how, []exam.Means{exam.Here, exam.ByTelephone})
	if err != nil {
		return err
	}
	by, err := e.person(r, f.by)
	if err != nil {
		return err
	}
	page := d.Page(seen, asked, by, e.now())
	l := exam.HandOffLine{To: f.to, How: how, Asked: page.Asks(), ReadBack: f.readBack}
	entry := exam.Entry{Visit: id, Kind: exam.EntryHandedOff, At: e.now(), By: by, Reason: f.why, HandOff: &l}
	return e.writeDown(r, entry, "loosebox/handed/1", asJSON)
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
