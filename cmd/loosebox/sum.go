package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/storage"
)

// calculator is how a sum of package sums is asked by a command.
type calculator struct {
	id, short, long, example string
	help                     map[string]string // of a flag, where it is not what the field asks
	needs                    [][2]string       // flags without which there is no answer, with what is needed
	weighed                  bool              // a horse of the record that was never weighed needs a weight
	named                    bool              // what is wrong with a flag is said with its name
	syringes                 bool              // the practice's own table counts
	tell                     string            // of the flag --horse
	print                    func(sums.Outcome) error
}

// sumCommand makes the command of a sum: its fields are the flags.
func (e *env) sumCommand(k calculator) *cobra.Command {
	sum, _ := sums.Find(k.id)
	var horse string
	var asJSON bool
	c := &cobra.Command{Use: k.id, Short: cmp.Or(k.short, sum.Does), Long: k.long, Example: k.example, Args: cobra.NoArgs}
	fields := append(sum.Fields(sums.In{}), sum.Flags...)
	for _, f := range fields {
		words := cmp.Or(k.help[f.Key], help(f))
		if f.Several {
			c.Flags().StringSlice(f.Key, nil, words)
			continue
		}
		c.Flags().String(f.Key, "", words)
	}
	c.Flags().StringVar(&horse, "horse", "", cmp.Or(k.tell, "take the weight from the record of this horse, with its method and age"))
	jsonFlag(c, &asJSON)
	c.RunE = func(*cobra.Command, []string) error {
		in, err := e.sumsIn(horse)
		if err != nil {
			return err
		}
		if k.syringes {
			in.Syringes = e.syringes()
			e.tell()
		}
		values := sum.Begin(in)
		for _, f := range fields {
			text, err := c.Flags().GetString(f.Key)
			if err != nil {
				list, _ := c.Flags().GetStringSlice(f.Key)
				text = strings.Join(list, ",")
			}
			if text == "" {
				continue
			}
			if err := f.Refuses(text); err != nil && k.named {
				return usage("--%s: %v", f.Key, err)
			}
			values[f.Key] = text
		}
		if k.weighed && horse != "" && values["weight"] == "" {
			return needsWeight(in.Horse)
		}
		for _, need := range k.needs {
			if values[need[0]] == "" {
				return usage("%s needs %s", k.id, need[1])
			}
		}
		out, err := sum.Work(in, values)
		switch {
		case err != nil:
			return wrongUse("", err)
		case asJSON:
			if d, ok := out.(interface{ Document() any }); ok {
				return e.printJSON(d.Document())
			}
			return e.printJSON(out)
		case k.print != nil:
			return k.print(out)
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
		set, err := r.Settings()
		if err != nil {
			return err
		}
		in.Units = set.Units
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
		lines = append(lines, "Check: "+w)
	}
	return e.lines(append(append(lines, r.Source...), decides)...)
}
