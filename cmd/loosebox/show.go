package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/exam/steps"
	"loosebox/storage"
	"loosebox/storage/unfinished"
)

// pageWidth is the width of a page of text that is no terminal's.
const pageWidth = 80

func (e *env) showCommand() *cobra.Command {
	var w wanted
	var file string
	var asJSON bool
	c := &cobra.Command{
		Use: "show VISIT", Short: "one visit as a page: text, JSON, HTML, PDF, CSV or FHIR R4", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if asJSON {
				w.as = formJSON
			}
			if err := w.check(); err != nil {
				return err
			}
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error {
				page, err := e.page(r, id)
				if err != nil {
					return err
				}
				return e.toFile(file, func() error { return e.printVisit(page, w) })
			})
		},
	}
	c.Flags().StringVar(&w.as, "as", formText, formNames(" or ", anyForm))
	c.Flags().BoolVar(&asJSON, "json", false, "the same as --as json")
	c.Flags().StringVar(&w.reader, "for", "", "owner: a page in plain words, without what is meant for the veterinarian")
	c.Flags().BoolVar(&w.short, "short", false, "the first page alone, without details and sources")
	c.Flags().StringVar(&w.paper, "paper", "", "of a PDF: A4 or Letter; the practice's own where it is left out")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

// page gathers what a visit's page is made of.
func (e *env) page(store exam.Store, id exam.VisitID) (report.Page, error) {
	v, err := findVisit(store, id)
	if err != nil {
		return report.Page{}, err
	}
	past, err := store.Past(v.Horse.ID, 0)
	if err != nil {
		return report.Page{}, err
	}
	set, err := store.Settings()
	if err != nil {
		return report.Page{}, err
	}
	p, err := e.pageOf(store, v, past, set)
	if err != nil {
		return report.Page{}, err
	}
	p.Charts = chart.OutOfRange(e.judge, e.steps, set.Units, v, p.Earlier, p.Verdict.Remarks)
	return p, nil
}

// pageOf is the page of a visit without its charts, beside every visit of its horse, newest first.
func (e *env) pageOf(store exam.Store, v exam.Visit, past []exam.Visit, set exam.Settings) (report.Page, error) {
	entries, err := store.Entries(v.ID)
	if err != nil {
		return report.Page{}, err
	}
	earlier := v.Before(past)
	p := report.Page{
		Visit: v, Earlier: earlier, Others: past, Entries: entries,
		Verdict: e.judge.Visit(v, earlier), Coverage: v.CoverageIn(e.routines, e.steps), Routine: v.Routine,
		Steps: e.steps, Judge: e.judge, Printed: e.now(), Practice: set.Practice, Units: set.Units,
	}
	if r, ok := steps.Find(e.routines, v.Routine); ok {
		p.Routine, p.Left = r.Title, v.Left(r.For(v.Class(), e.steps))
	}
	return p, nil
}

// toFile lets work write its results into a new file, which has its name only when
// it is whole; an existing one is never written over. Without a name the results go where they always go.
func (e *env) toFile(name string, work func() error) (err error) {
	if name == "" {
		return work()
	}
	f, err := unfinished.Create(name, "page")
	if err != nil {
		return err
	}
	defer f.Discard()
	old := e.out
	e.out = &untilSignal{e, f}
	defer func() { e.out = old }()
	if err := work(); err != nil {
		return err
	}
	return f.Finish(nil)
}

// untilSignal is a writer that fails once a signal ended the run.
type untilSignal struct {
	env *env
	io.Writer
}

func (u *untilSignal) Write(p []byte) (int, error) {
	if u.env.context().Err() != nil {
		return 0, context.Cause(u.env.context())
	}
	return u.Writer.Write(p)
}
