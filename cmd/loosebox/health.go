package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"loosebox/storage"
)

func itoa(n int) string { return strconv.Itoa(n) }

func (e *env) checkCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "check", Short: "check every line of the record against its digest", Args: cobra.NoArgs,
		Long: `check reads every line of the record, compares it with its digest and with the
line before it, and names the first line of each visit that is not what was
written. It changes nothing. Exit 4 means that the record is damaged.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.record(func(r *storage.Record) error {
				report, err := r.Check(c.Context())
				if err != nil {
					return err
				}
				return e.printReport(report, asJSON)
			})
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

type brokenJSON struct {
	Visit string `json:"visit"`
	Seq   int    `json:"seq"`
	What  string `json:"what"`
}

func (e *env) printReport(report storage.Report, asJSON bool) error {
	broken := []brokenJSON{}
	for _, b := range report.Broken {
		broken = append(broken, brokenJSON{string(b.Visit), b.Seq, b.What})
	}
	if asJSON {
		err := e.printJSON(struct {
			Schema     string       `json:"schema"`
			Visits     int          `json:"visits"`
			Entries    int          `json:"entries"`
			Rehearsals int          `json:"rehearsals"`
			Broken     []brokenJSON `json:"broken"`
			OK         bool         `json:"ok"`
		}{"loosebox/check/1", report.Visits, report.Entries, report.Rehearsals, broken, report.OK})
		if err != nil {
			return err
		}
	} else {
		if err := e.printf("%d visits, %d rehearsals, %d entries\n", report.Visits, report.Rehearsals, report.Entries); err != nil {
			return err
		}
		for _, b := range broken {
			if err := e.printf("visit %s, entry %d: %s\n", b.Visit, b.Seq, b.What); err != nil {
				return err
			}
		}
	}
	if report.OK {
		return e.printUnless(asJSON, "every line is as it was written\n")
	}
	return errDamaged
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
		Long: `rebuild makes everything that is derived from the lines of the record again:
the newest state of every visit, the lists by horse and by time. The lines
themselves are not touched, and a damaged record is left as it is.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.record(func(r *storage.Record) error {
				n, rehearsed, err := r.Rebuild(c.Context())
				if err != nil {
					return err
				}
				return e.printf("%d visits and %d rehearsals rebuilt from their lines\n", n, rehearsed)
			})
		},
	}
}
