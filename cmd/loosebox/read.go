package main

import (
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/tui/nav"
)

func (e *env) readCommand() *cobra.Command {
	var by, role, words string
	var corrects int
	var why string
	var asJSON bool
	c := &cobra.Command{
		Use: "read VISIT", Short: "save that the veterinarian read a visit, and sign it off", Args: cobra.ExactArgs(1),
		Long: `read saves who read a visit, when, and the reader's words. A veterinarian's reading
signs the visit off; a colleague's does not. It is shown on the page, in FHIR and
on the round. Later entries are not part of it, and the page says so. Without --by
a terminal opens the screen for it.

--corrects ENTRY corrects a reading; the first one stays in the record.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error {
				if strings.TrimSpace(by) == "" {
					return e.signOffScreen(r, id)
				}
				as, err := meant("--role", role, exam.ReaderRoles())
				if err != nil {
					return err
				}
				entry := exam.Entry{
					Visit: id, Kind: exam.EntryRead, At: e.now(), By: notation.CleanLine(by, 0), Corrects: corrects, Reason: why,
					Reading: &exam.ReadingLine{Role: as, Words: words},
				}
				return e.readDown(r, entry, asJSON)
			})
		},
	}
	c.Flags().StringVar(&by, "by", "", "who read it: the reader's own name")
	c.Flags().StringVar(&role, "role", string(exam.ReadByVet), "veterinarian or colleague")
	c.Flags().StringVar(&words, "words", "", "the reader's own words")
	correctsFlag(c, &corrects, "reading")
	c.Flags().StringVar(&why, "reason", "", "why it is corrected, in a closed visit")
	jsonFlag(c, &asJSON)
	return c
}

// signOffScreen opens the screen on which a visit is signed off, where there is a terminal.
func (e *env) signOffScreen(r *storage.Record, id exam.VisitID) error {
	if e.lineByLine() {
		return usage("say who read the visit: --by NAME --role veterinarian --words TEXT")
	}
	v, err := findVisit(r, id)
	if err != nil {
		return err
	}
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	return e.screens(d, nav.Address{Screen: nav.Home}, nav.Address{Screen: nav.SignOff, Horse: v.Horse.ID, Visit: id})
}

// readDown saves a reading; one that is corrected must stand in the visit.
func (e *env) readDown(r *storage.Record, entry exam.Entry, asJSON bool) error {
	v, err := findVisit(r, entry.Visit)
	if err != nil {
		return err
	}
	stands := entry.Corrects == 0
	for _, old := range v.Readings {
		stands = stands || old.Seq == entry.Corrects
	}
	if !stands {
		return exam.NoSuch("entry %d of this visit is no reading that stands", entry.Corrects)
	}
	return e.writeDown(r, entry, "loosebox/read/1", asJSON)
}
