package main

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/storage"
)

func itoa(n int) string { return strconv.Itoa(n) }

func (e *env) checkCommand() *cobra.Command {
	var asJSON, keyless bool
	c := &cobra.Command{
		Use: "check", Short: "check every line of the record against digest and signature", Args: cobra.NoArgs,
		Long: `check reads every line of every log. It compares lines with their digests and logs
with their signatures, and works out all derived data again. For each log it
prints the key that signed it and up to which line. It names the first damaged
line. It changes nothing. Exit 4 means that the record is damaged or lines of this
machine are missing.

No check can detect that record and key were replaced together. The same holds for
an older copy with its machine.count: keep the fingerprints on paper.`,
		RunE: func(c *cobra.Command, _ []string) error {
			o := storage.Options{MustExist: true, Beside: true, Keyless: keyless}
			return e.recordIn(e.dataDir(), o, func(r *storage.Record) error {
				ctx, end := e.progress(c.Context(), "checking")
				report, err := r.Check(ctx)
				end()
				if err != nil {
					return err
				}
				return e.printReport(report, asJSON)
			})
		},
	}
	jsonFlag(c, &asJSON)
	c.Flags().BoolVar(&keyless, "keyless", false, "without this machine's key, and without what it remembers of the record")
	_ = c.Flags().MarkHidden("keyless") // a restore asks for it
	return c
}

type brokenJSON struct {
	Visit string `json:"visit"`
	Seq   int    `json:"seq"`
	What  string `json:"what"`
	Log   string `json:"log,omitempty"`
	Line  uint64 `json:"line,omitempty"`
}

func (e *env) printReport(report storage.Report, asJSON bool) error {
	broken := []brokenJSON{}
	for _, b := range report.Broken {
		broken = append(broken, brokenJSON(b))
	}
	var first *brokenJSON
	if b, ok := report.First(); ok {
		j := brokenJSON(b)
		first = &j
	}
	if asJSON {
		err := e.printJSON(struct {
			Schema     string           `json:"schema"`
			Visits     int              `json:"visits"`
			Entries    int              `json:"entries"`
			Rehearsals int              `json:"rehearsals"`
			Waiting    int              `json:"waiting"`
			Aside      int              `json:"aside"`
			Machines   int              `json:"machines"`
			Lines      int              `json:"lines"`
			Settings   int              `json:"settings"`
			Signatures int              `json:"signatures"`
			Writers    []storage.Writer `json:"writers"`
			First      *brokenJSON      `json:"first"`
			Broken     []brokenJSON     `json:"broken"`
			OK         bool             `json:"ok"`
		}{
			"loosebox/check/1", report.Visits, report.Entries, report.Rehearsals, report.Waiting, report.Aside, report.Machines, report.Lines, report.Settings,
			report.Signatures, report.Writers, first, broken, report.OK,
		})
		if err != nil {
			return err
		}
	} else {
		if err := e.printf("%d visits, %d rehearsals, %d entries; %d lines in the logs of %s, %d signatures\n",
			report.Visits, report.Rehearsals, report.Entries, report.Lines, notation.Counted(report.Machines, "laptop"), report.Signatures); err != nil {
			return err
		}
		for _, w := range report.Writers {
			if err := e.printf("%s\n", writerText(w)); err != nil {
				return err
			}
		}
		if report.Settings > 0 {
			if err := e.printf("%s about settings of the practice\n", notation.Counted(report.Settings, "line")); err != nil {
				return err
			}
		}
		if report.Aside > 0 {
			if err := e.printf("%d parts of logs are kept aside until what they follow comes\n", report.Aside); err != nil {
				return err
			}
		}
		if err := e.printBroken(broken, first); err != nil {
			return err
		}
	}
	if report.OK {
		return e.printUnless(asJSON, "every line is as it was written\n")
	}
	return errDamaged
}

func (e *env) printBroken(broken []brokenJSON, first *brokenJSON) error {
	for _, b := range broken {
		if err := e.printf("%s\n", b); err != nil {
			return err
		}
	}
	if first == nil {
		return nil
	}
	return e.printf("the first that is not what was written: %s\n", *first)
}

// String says what is broken, and where.
func (b brokenJSON) String() string {
	text := b.What
	switch {
	case b.Visit != "" && b.Seq > 0:
		text = fmt.Sprintf("visit %s, entry %d: %s", b.Visit, b.Seq, b.What)
	case b.Visit != "":
		text = fmt.Sprintf("visit %s: %s", b.Visit, b.What)
	}
	return notation.CleanNote(text)
}

func (e *env) printUnless(skip bool, text string) error {
	if skip {
		return nil
	}
	return e.printf("%s", text)
}

func (e *env) rebuildCommand() *cobra.Command {
	return &cobra.Command{
		Use: "rebuild", Short: "make the indexes and snapshots again from the lines of the record", Args: cobra.NoArgs,
		Long: `rebuild makes all derived data of the record again. That is the state of every visit
and the lists by horse and time. The lines themselves are not touched. A damaged
record is left as it is.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.existing(func(r *storage.Record) error {
				ctx, end := e.progress(c.Context(), "rebuilding")
				n, rehearsed, err := r.Rebuild(ctx)
				end()
				if err != nil {
					return err
				}
				return e.printf("%d visits and %d rehearsals rebuilt from their lines\n", n, rehearsed)
			})
		},
	}
}

// writerText says what was proved about one log.
func writerText(w storage.Writer) string {
	what, whose := "visits", "another laptop"
	if w.Rehearsals {
		what = "rehearsals"
	}
	if w.Own {
		whose = "this laptop"
	}
	text := fmt.Sprintf("log %.8s (%s, %s): %s", w.Log, what, whose, notation.Counted(int(w.Lines), "line")) //nolint:gosec // lines of one record
	if w.From != nil && w.To != nil {
		text += ", " + notation.ShownSpan(*w.From, *w.To)
	}
	if w.Branch {
		text += fmt.Sprintf(", a branch behind line %d (the laptop was copied or restored)", w.Behind)
	}
	text += fmt.Sprintf(", signed up to line %d by key %s", w.SignedTo, w.Fingerprint)
	if !w.OK {
		text += "; NOT as it was written"
	}
	return text
}
