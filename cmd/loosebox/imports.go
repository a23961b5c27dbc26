package main

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/storage"
)

func (e *env) importsCommand() *cobra.Command {
	var back, why, by string
	var asJSON bool
	c := &cobra.Command{
		Use: "imports", Short: "what was imported from spreadsheets; void an import", Args: cobra.NoArgs,
		Long: `imports lists the imports of spreadsheets, the newest first. It shows number, time,
person, file, and how many of its visits count.

--take-back NUMBER --reason "the wrong yard" voids every visit of one import. The
visits stay readable and count nowhere. The horses stay. If it is interrupted, run
the same command again.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.existing(func(r *storage.Record) error {
				list, err := importsOf(r)
				switch {
				case err != nil:
					return err
				case back == "" && (why != "" || by != ""):
					return usage("--reason and --by belong to --take-back")
				case back == "":
					return e.printImports(list, asJSON)
				}
				return e.takeBack(c.Context(), e.kept(r), list, back, why, by, asJSON)
			})
		},
	}
	c.Flags().StringVar(&back, "take-back", "", "the number of the import to void")
	c.Flags().StringVar(&why, "reason", "", "why it is voided")
	c.Flags().StringVar(&by, "by", "", "who voids it (default: the person of the settings)")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

// oneImport is one import of a spreadsheet with its visits that count.
type oneImport struct {
	Number string    `json:"number"`
	At     time.Time `json:"at"`
	By     string    `json:"by"`
	File   string    `json:"file"`
	Visits int       `json:"visits"`

	origin intake.Origin
	ids    []exam.VisitID
}

// importsOf gathers the visits of each import, the newest first.
func importsOf(store exam.Store) ([]*oneImport, error) {
	visits, err := store.Recent(0)
	if err != nil {
		return nil, err
	}
	var out []*oneImport
	at := map[string]*oneImport{}
	for _, v := range visits {
		o, ok := intake.ReadOrigin(v.Source)
		if !ok {
			continue
		}
		one := at[o.Number()]
		if one == nil {
			one = &oneImport{Number: o.Number(), At: o.At, By: o.By, File: o.File, origin: o}
			at[o.Number()] = one
			out = append(out, one)
		}
		one.Visits++
		one.ids = append(one.ids, v.ID)
	}
	slices.SortStableFunc(out, func(a, b *oneImport) int { return b.At.Compare(a.At) })
	return out, nil
}

func (e *env) printImports(list []*oneImport, asJSON bool) error {
	if asJSON {
		return e.printJSON(struct {
			Schema  string       `json:"schema"`
			Imports []*oneImport `json:"imports"`
		}{"loosebox/imports/1", append([]*oneImport{}, list...)})
	}
	if len(list) == 0 {
		return e.printf("Nothing was imported from a spreadsheet.\n")
	}
	rows := make([][]string, len(list))
	for i, one := range list {
		rows[i] = []string{one.Number, one.At.Format("2 Jan 2006 15:04"), notation.CleanLine(one.By, 0), notation.Counted(one.Visits, "visit"), notation.CleanLine(one.File, 0)}
	}
	return columns(e.out, rows)
}

// takeBack voids the visits of one import.
func (e *env) takeBack(ctx context.Context, store exam.Store, list []*oneImport, number, why, by string, asJSON bool) error {
	i := slices.IndexFunc(list, func(o *oneImport) bool { return o.Number == number })
	switch {
	case i < 0:
		return exam.NoSuch("no import has the number %q; loosebox imports lists them", notation.CleanLine(number, 40))
	case notation.CleanLine(why, 0) == "":
		return usage("type why the import is voided: --reason")
	}
	by, err := e.person(store, by)
	if err != nil {
		return err
	}
	one, voided := list[i], 0
	var kept []string
	bar := e.bar("voiding", one.Visits)
	for _, id := range one.ids {
		if err := ctx.Err(); err != nil {
			bar.end()
			return fmt.Errorf("stopped: %d of %d visits are voided; the same command goes on with the rest: %w", voided, one.Visits, err)
		}
		_, _, err := store.Strike(exam.Entry{Visit: id, Kind: exam.EntryStruck, At: e.now(), By: by, Amend: &exam.Amendment{Why: why}}, "")
		if err != nil {
			kept = append(kept, fmt.Sprintf("visit %s is not voided: %v", shortNumber(id), err))
			continue
		}
		voided++
		bar.at(voided)
	}
	bar.end()
	for n, text := range kept {
		if n == maxSaid {
			e.say(fmt.Sprintf("and %d more that are not voided", len(kept)-n))
			break
		}
		e.say(text)
	}
	if asJSON {
		return e.printJSON(struct {
			Schema string `json:"schema"`
			Number string `json:"number"`
			Voided int    `json:"voided"`
			Kept   int    `json:"not_voided"`
		}{"loosebox/imports/1", one.Number, voided, len(kept)})
	}
	if err := e.printf("%s of the import %s voided: %s. They stay readable and do not count.\n", notation.Counted(voided, "visit"), one.Number, notation.CleanLine(why, 0)); err != nil || len(kept) == 0 {
		return err
	}
	return fmt.Errorf("%s of the import not voided", notation.Counted(len(kept), "visit"))
}
