package main

import (
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/storage"
)

func (e *env) handoffCommand() *cobra.Command {
	var asked string
	var asJSON bool
	var told toldFlags
	c := &cobra.Command{
		Use: "handoff VISIT", Short: "the page to read to the veterinarian, in under a minute", Args: cobra.ExactArgs(1),
		Long: `handoff prints what you read to the veterinarian. The order: why you call, danger
signs, vital signs, what stands out, the rest, your question. Below are the S and O of a
SOAP note. Assessment and plan are for the veterinarian and stay empty.

--to saves that you read the page: to whom, how, your question, and whether they
repeated it.`,
		Example: `  loosebox handoff last
  loosebox handoff Wren@last --to "Dr Vale" --how "by telephone" --ask "May she travel?" --read-back --by "Ann Bell"`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error {
				if told.to != "" {
					return e.handed(r, id, asked, told, asJSON)
				}
				return e.handoff(r, id, asked, asJSON)
			})
		},
	}
	c.Flags().StringVar(&asked, "ask", "", "your question to the veterinarian (default: from the findings)")
	c.Flags().StringVar(&told.to, "to", "", "save that it was read to this veterinarian")
	c.Flags().StringVar(&told.how, "how", "", "with --to: here or by telephone")
	c.Flags().BoolVar(&told.readBack, "read-back", false, "with --to: they repeated it correctly")
	byFlag(c, &told.by, "with --to: who read it")
	c.Flags().StringVar(&told.why, "reason", "", "with --to: why it is added late; needed once the visit is closed")
	jsonFlag(c, &asJSON)
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
	page := d.Page(seen, asked, by, d.Settings, e.now())
	l := exam.HandOffLine{To: f.to, How: how, Asked: page.Asks(), ReadBack: f.readBack}
	entry := exam.Entry{Visit: id, Kind: exam.EntryHandedOff, At: e.now(), By: by, Reason: f.why, HandOff: &l}
	return e.writeDown(r, entry, "loosebox/handoff/1", asJSON)
}

func (e *env) handoff(r *storage.Record, id exam.VisitID, asked string, asJSON bool) error {
	_, d, seen, err := e.seen(r, id)
	if err != nil {
		return err
	}
	if !seen.Visit.Stands() {
		e.say("This visit is voided and does not count. Do not hand it off.")
	}
	page := d.Page(seen, asked, seen.Visit.By, d.Settings, e.now())
	if asJSON {
		return e.printJSON(page.Document())
	}
	return e.printf("%s", page.Text(pageWidth))
}
