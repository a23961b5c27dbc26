package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/pdf"
	"loosebox/storage"
)

func (e *env) labelsCommand() *cobra.Command {
	var stock, file string
	var skip int
	var names, words []string
	for _, s := range pdf.Stocks() {
		names, words = append(names, s.Name), append(words, fmt.Sprintf("  %-10s %s", s.Name, s.Words))
	}
	c := &cobra.Command{
		Use: "labels VISIT", Short: "labels for the tubes of a blood draw, as PDF", Args: cobra.ExactArgs(1),
		Long: `labels prints a label for each tube of a visit's blood draws. It shows animal, time,
tube and purpose, and a Data Matrix code of visit, draw and tube. Tubes that are
ordered and still empty have room for the time. Print at 100 %, not fitted to the
page. Compare each label with the animal and the tube before you use it.

Label sizes for --stock:
` + strings.Join(words, "\n"),
		RunE: func(_ *cobra.Command, args []string) error {
			s, ok := pdf.StockNamed(stock)
			if !ok {
				return usage("labels come on %s, not on %q", strings.Join(names, ", "), notation.CleanLine(stock, 20))
			}
			if skip < 0 || skip >= s.PerPage() {
				return usage("a page of %s has %d labels: --skip takes 0 to %d", s.Name, s.PerPage(), s.PerPage()-1)
			}
			if err := e.noTerminal(); err != nil && file == "" {
				return err
			}
			return e.ofVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.labels(r, id, s, skip, file) })
		},
	}
	c.Flags().StringVar(&stock, "stock", names[0], strings.Join(names, ", "))
	c.Flags().IntVar(&skip, "skip", 0, "labels of the first sheet that are used up already")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) labels(r *storage.Record, id exam.VisitID, s pdf.Stock, skip int, file string) error {
	v, err := findVisit(r, id)
	if err != nil {
		return err
	}
	if !v.Stands() {
		return usage("this visit is voided and does not count: no label is made")
	}
	entries, err := r.Entries(v.ID)
	if err != nil {
		return err
	}
	labels := report.Labels(v, entries)
	if len(labels) == 0 {
		return exam.NoSuch("this visit has no tubes; loosebox draw begins a blood draw")
	}
	return e.toFile(file, func() error {
		lost, err := pdf.WriteLabels(e.out, s, labels, skip, v.OpenedAt)
		e.sayLost(lost)
		return err
	})
}
