package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/storage"
)

// sumCommand is a sum of package sums as a command: its fields are the flags.
func (e *env) sumCommand(id, long, example string) *cobra.Command {
	sum, _ := sums.Find(id)
	texts := map[string]*string{}
	var horse string
	var asJSON bool
	c := &cobra.Command{Use: id, Short: sum.Does, Long: long, Example: example, Args: cobra.NoArgs}
	for _, f := range sum.Fields(sums.In{}) {
		texts[f.Key] = c.Flags().String(f.Key, "", help(f))
	}
	c.Flags().StringVar(&horse, "horse", "", "take the weight from the record of this horse, with its method and age")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	c.RunE = func(*cobra.Command, []string) error {
		in, err := e.sumsIn(horse)
		if err != nil {
			return err
		}
		values := sum.Begin(in)
		for key, text := range texts {
			if *text != "" {
				values[key] = *text
			}
		}
		out, err := sum.Work(in, values)
		if err != nil {
			return wrongUse("", err)
		}
		if asJSON {
			return e.printJSON(out)
		}
		return e.printResult(out.Result())
	}
	return c
}

// help is what a flag asks, its choices named.
func help(f sums.Field) string {
	keys := make([]string, 0, len(f.Choices))
	for _, c := range f.Choices {
		if c.Key != "" {
			keys = append(keys, c.Key)
		}
	}
	if len(keys) == 0 {
		return f.Ask
	}
	return fmt.Sprintf("%s: %s", f.Ask, strings.Join(keys, ", "))
}

// sumsIn is what a sum may know of a horse of the record; of none where no name is given.
func (e *env) sumsIn(name string) (sums.In, error) {
	in := sums.In{Now: e.now()}
	if name == "" {
		return in, nil
	}
	err := e.existing(func(r *storage.Record) error {
		var err error
		if in.Horse, err = findHorse(r, name); err != nil {
			return err
		}
		in.Visits, err = r.Past(in.Horse.ID, 0)
		return err
	})
	return in, err
}

// needsWeight says what to do where a horse of the record was never weighed.
func needsWeight(h exam.Horse) error {
	return usage("%s was never weighed in the record; give --weight 500kg", notation.CleanLine(h.Name, 40))
}

func (e *env) printResult(r sums.Result) error {
	lines := append([]string{r.Head}, r.More...)
	lines = append(lines, setIn(r.Working)...)
	for _, w := range r.Warnings {
		lines = append(lines, "! "+w)
	}
	return e.lines(append(append(lines, r.Source...), decides)...)
}
