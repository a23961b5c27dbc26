package main

import (
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/authorization"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

// afterDocument is the JSON of the after command, and of every command that
// writes down something that follows an exam.
type afterDocument struct {
	Schema string       `json:"schema"`
	Visit  exam.VisitID `json:"visit"`
	At     time.Time    `json:"at"`
	Entry  *entryJSON   `json:"entry,omitempty"` // what was written down
	Lines  []after.Task `json:"lines"`
	// Level is the highest of the exam so far; Answered of Steps are answered.
	Level    *exam.Level `json:"level,omitempty"`
	Answered *int        `json:"steps_answered,omitempty"`
	Steps    *int        `json:"steps,omitempty"`
}

// entryJSON is an entry with its place in its visit, and its identity.
type entryJSON struct {
	exam.Entry
	Seq      int       `json:"seq"`
	Corrects int       `json:"corrects,omitempty"` // place of the entry that it replaces
	Identity exam.Hash `json:"identity"`
}

func entryOf(e exam.Entry) *entryJSON { return &entryJSON{e, e.Seq, e.Corrects, e.Hash} }

func (e *env) afterCommand() *cobra.Command {
	var may string
	var asJSON bool
	c := &cobra.Command{
		Use: "after VISIT", Short: "what follows the exam: to do, done, or locked and why", Args: cobra.ExactArgs(1),
		Long: `after lists what follows the exam: hand-off, decisions, injections, blood draws,
observations, follow-ups and closing. Each is to do, done, or locked with the
reason.

--may asks whether a procedure may begin now. Name it as decide does: draw, or
injection:PRODUCT:ROUTE. Where it may not, the command ends with code 6.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error {
				if may != "" {
					return e.may(r, id, may)
				}
				return e.after(r, id, asJSON)
			})
		},
	}
	c.Flags().StringVar(&may, "may", "", "ask whether this procedure may begin now; code 6 where it may not")
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) after(r *storage.Record, id exam.VisitID, asJSON bool) error {
	if !asJSON && !e.lineByLine() {
		return e.follow(r, following{command: "after", screen: nav.After, run: (*plain.Session).After}, id, 0, "")
	}
	e.tell()
	_, d, seen, err := e.seen(r, id)
	if err != nil {
		return err
	}
	lines := d.Following(seen, d.Settings, e.now())
	if asJSON {
		return e.printJSON(afterDocument{
			Schema: "loosebox/after/1", Visit: id, At: e.now(), Lines: lines,
			Level: &seen.Verdict.Level, Answered: &seen.Coverage.Answered, Steps: &seen.Coverage.Of,
		})
	}
	if err := e.printf("%s\n", seen.Coverage.Level(seen.Verdict.Level)); err != nil {
		return err
	}
	return e.printFollowing(lines)
}

// seen reads a visit as the screens do.
func (e *env) seen(r *storage.Record, id exam.VisitID) (exam.Visit, *nav.Deps, desk.Judged, error) {
	v, err := findVisit(r, id)
	if err != nil {
		return v, nil, desk.Judged{}, err
	}
	d, err := e.deps(r)
	if err != nil {
		return v, nil, desk.Judged{}, err
	}
	seen, err := d.Read(id)
	return v, d, seen, err
}

func (e *env) printFollowing(lines []after.Task) error {
	for _, l := range lines {
		if err := e.printf("%s\n", indented(plain.Line(l))); err != nil {
			return err
		}
	}
	return nil
}

// may says whether a procedure may begin now, and by which decision.
func (e *env) may(r *storage.Record, id exam.VisitID, text string) error {
	c, err := exam.ReadCover(text)
	if err != nil {
		return usage("--may: %v", err)
	}
	_, _, seen, err := e.seen(r, id)
	if err != nil {
		return err
	}
	d, err := authorization.Covering(seen.Visit, seen.Verdict.Remarks, exam.Procedure{Kind: c.Kind, Product: c.Product, Route: c.Route, At: e.now()})
	if err != nil {
		return err
	}
	return e.printf("%s\n", indented("yes: "+c.String()+", by the decision of "+d.Vet+" (entry "+strconv.Itoa(d.Seq)+"), valid until "+
		notation.ShownAt(d.Ends(), e.now())))
}

// writeDown asks the gate, writes one entry of a visit, and says what follows.
func (e *env) writeDown(r *storage.Record, entry exam.Entry, schema string, asJSON bool) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	e.tell()
	back, err := d.Write(entry)
	if err != nil {
		return asUsage(err)
	}
	seen, err := d.Read(entry.Visit)
	if err != nil {
		return err
	}
	lines := d.Following(seen, d.Settings, e.now())
	if asJSON {
		return e.printJSON(afterDocument{Schema: schema, Visit: entry.Visit, At: back.At, Entry: entryOf(back), Lines: lines})
	}
	if err := e.printf("Saved as entry %d.\n", back.Seq); err != nil {
		return err
	}
	return e.printFollowing(lines)
}
