package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/exam/report/pdf"
	"loosebox/exam/steps"
	"loosebox/storage"
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
			if err := e.tables(); err != nil {
				return err
			}
			return e.record(func(r *storage.Record) error {
				page, err := e.page(r, exam.VisitID(args[0]))
				if err != nil {
					return err
				}
				return e.toFile(file, func() error { return e.printPage(page, w) })
			})
		},
	}
	c.Flags().StringVar(&w.as, "as", formText, "text, json, html, pdf, csv or fhir")
	c.Flags().BoolVar(&asJSON, "json", false, "the same as --as json")
	c.Flags().StringVar(&w.reader, "for", "", "owner: a page in plain words, without what is meant for the veterinarian")
	c.Flags().StringVar(&w.paper, "paper", string(pdf.A4), "of a PDF: A4 or Letter")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

// page gathers what a visit's page is made of.
func (e *env) page(store exam.Store, id exam.VisitID) (report.Page, error) {
	v, err := findVisit(store, id)
	if err != nil {
		return report.Page{}, err
	}
	entries, err := store.Entries(v.ID)
	if err != nil {
		return report.Page{}, err
	}
	earlier, err := before(store, v)
	if err != nil {
		return report.Page{}, err
	}
	p := report.Page{Visit: v, Earlier: earlier, Entries: entries, Verdict: e.judge.Visit(v, earlier), Routine: v.Routine, Steps: e.steps}
	p.Charts = chart.OutOfRange(e.judge, e.steps, v, earlier, p.Verdict.Remarks)
	if r, ok := steps.Find(e.routines, v.Routine); ok {
		p.Routine, p.Left = r.Title, v.Left(r.For(v.Class(), e.steps))
	}
	return p, nil
}

// before lists a horse's visits that began before this one, newest first.
func before(store exam.Store, v exam.Visit) ([]exam.Visit, error) {
	past, err := store.Past(v.Horse.ID, 0)
	if err != nil {
		return nil, err
	}
	var earlier []exam.Visit
	for _, p := range past {
		if p.ID != v.ID && p.OpenedAt.Before(v.OpenedAt) {
			earlier = append(earlier, p)
		}
	}
	return earlier, nil
}

// toFile lets work write its results into a new file; an existing one is never
// written over. Without a name the results go where they always go.
func (e *env) toFile(name string, work func() error) (err error) {
	if name == "" {
		return work()
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		if errors.Is(err, os.ErrExist) {
			return fmt.Errorf("%s is there already and was not touched; choose another name", name)
		}
		return fmt.Errorf("the file cannot be made: %w", err)
	}
	old := e.out
	e.out = io.Writer(f)
	defer func() {
		e.out = old
		if closeErr := errors.Join(f.Sync(), f.Close()); err == nil && closeErr != nil {
			err = fmt.Errorf("the file could not be written whole: %w", closeErr)
		}
	}()
	return work()
}
