package main

import (
	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/pdf"
	"loosebox/exam/steps"
	"loosebox/storage"
)

func (e *env) sheetCommand() *cobra.Command {
	var routine, horse, as, paper, file string
	c := &cobra.Command{
		Use: "sheet", Short: "a blank exam sheet for paper, as text or PDF", Args: cobra.NoArgs,
		Long: `Prints the steps of a routine with blanks to write on in a barn.

With --horse it prints the horse's name, cautions and usual ranges. It leaves out
steps that do not apply to this horse.`,
		RunE: func(*cobra.Command, []string) error {
			if as != formText && as != formPDF {
				return usage("a sheet is text or pdf, not %q", notation.CleanLine(as, 20))
			}
			size, err := paperSize(paper)
			if err != nil {
				return err
			}
			if err := e.tables(); err != nil {
				return err
			}
			sheet, err := e.sheet(routine, horse)
			if err != nil {
				return err
			}
			return e.toFile(file, func() error { return e.printSheet(sheet, as, size) })
		},
	}
	c.Flags().StringVar(&routine, "routine", steps.Default, "name of the routine")
	c.Flags().StringVar(&horse, "horse", "", "for this horse: name or number")
	c.Flags().StringVar(&as, "as", formText, "text or pdf")
	c.Flags().StringVar(&paper, "paper", string(pdf.A4), "of a PDF: A4 or Letter")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) sheet(routine, horse string) (report.Sheet, error) {
	r, ok := steps.Find(e.routines, routine)
	if !ok {
		return report.Sheet{}, e.noRoutine(routine)
	}
	if horse == "" {
		return report.NewSheet(r, e.steps, nil, nil, exam.Class{}, e.judge), nil
	}
	var sheet report.Sheet
	err := e.existing(func(rec *storage.Record) error {
		set, err := rec.Settings()
		if err != nil {
			return err
		}
		h, err := findHorse(rec, horse)
		if err != nil {
			return err
		}
		sheet = report.NewSheet(r, e.steps, set.Units, &h, exam.ClassOf(h, e.now()), e.judge)
		return nil
	})
	return sheet, err
}

func (e *env) printSheet(s report.Sheet, as string, size pdf.PaperSize) error {
	if as == formText {
		return e.printf("%s", report.SheetText(s, pageWidth))
	}
	if err := e.noTerminal(); err != nil {
		return err
	}
	lost, err := pdf.WriteSheet(e.out, size, s, e.now())
	e.sayLost(lost)
	return err
}
