package main

import (
	"cmp"
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
				return e.takeBack(c.Context(), r, list, back, why, by, asJSON)
			})
		},
	}
	c.Flags().StringVar(&back, "take-back", "", "the number of the import to void")
	c.Flags().StringVar(&why, "reason", "", "why it is voided")
	byFlag(c, &by, "who voids it")
	jsonFlag(c, &asJSON)
	return c
}

// oneImport is one import of a spreadsheet with its visits that count.
type oneImport struct {
	Number string    `json:"number"`
	At     time.Time `json:"at"`
	By     string    `json:"by"`
	File   string    `json:"file"`
	Visits int       `json:"visits"`

	ids []exam.VisitID
}

// importsOf gathers the visits of each import that stand, the newest import first; visits of one horse are side by side.
// Where a visit came from stands in the short row of its horse.
func importsOf(store exam.Store) ([]*oneImport, error) {
	never := time.Unix(1<<40, 0)
	return importsBy(store, func(h exam.HorseID) ([]exam.Visit, error) { return store.Outline(h, never) })
}

func importsBy(store exam.Store, visits func(exam.HorseID) ([]exam.Visit, error)) ([]*oneImport, error) {
	horses, err := store.Horses()
	if err != nil {
		return nil, err
	}
	var out []*oneImport
	at := map[string]*oneImport{}
	for _, h := range horses {
		list, err := visits(h.Horse.ID)
		if err != nil {
			return nil, err
		}
		for _, v := range list {
			o, ok := intake.ReadOrigin(v.Source)
			if !ok {
				continue
			}
			number := o.Number()
			one := at[number]
			if one == nil {
				one = &oneImport{Number: number, At: o.At, By: o.By, File: o.File}
				at[number] = one
				out = append(out, one)
			}
			one.Visits++
			one.ids = append(one.ids, v.ID)
		}
	}
	slices.SortStableFunc(out, func(a, b *oneImport) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.Number, b.Number)) })
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
		rows[i] = []string{one.Number, notation.ShownAt(one.At, e.now()), notation.CleanLine(one.By, 0), notation.Counted(one.Visits, "visit"), notation.CleanLine(one.File, 0)}
	}
	return columns(e.out, rows)
}

// takeBack voids the visits of one import, some thousand at a time: what is voided stays so, and a second run goes on with
// the rest.
func (e *env) takeBack(ctx context.Context, r *storage.Record, list []*oneImport, number, why, by string, asJSON bool) error {
	if notation.CleanLine(why, 0) == "" {
		return usage("type why the import is voided: --reason")
	}
	one := numbered(list, number)
	if one == nil {
		before, err := importsBy(r, r.Struck)
		if err != nil {
			return err
		}
		if one = numbered(before, number); one == nil {
			return exam.NoSuch("no import has the number %q; loosebox imports lists them", notation.CleanLine(number, 40))
		}
		return e.sayTakenBack(one.Number, 0, asJSON, fmt.Sprintf("The import %s is voided already: %s.", one.Number, notation.Counted(one.Visits, "visit")))
	}
	by, err := e.person(r, by)
	if err != nil {
		return err
	}
	voided := 0
	bar := e.bar("voiding", one.Visits)
	defer bar.end()
	for part := range slices.Chunk(one.ids, sliceVisits) {
		n, err := r.StrikeAll(ctx, part, exam.Entry{Kind: exam.EntryStruck, At: e.now(), By: by, Amend: &exam.Amendment{Why: exam.AmendReason(why)}})
		if err != nil {
			return fmt.Errorf("stopped: %d of %d visits are voided; the same command goes on with the rest: %w", voided, one.Visits, err)
		}
		voided += n
		bar.at(voided)
	}
	bar.end()
	if e.keeper != nil {
		e.keeper.kick()
	}
	return e.sayTakenBack(one.Number, voided, asJSON,
		fmt.Sprintf("%s of the import %s voided: %s. They stay readable and do not count.", notation.Counted(voided, "visit"), one.Number, notation.CleanLine(why, 0)))
}

func numbered(list []*oneImport, number string) *oneImport {
	if i := slices.IndexFunc(list, func(o *oneImport) bool { return o.Number == number }); i >= 0 {
		return list[i]
	}
	return nil
}

func (e *env) sayTakenBack(number string, voided int, asJSON bool, words string) error {
	if !asJSON {
		return e.printf("%s\n", words)
	}
	return e.printJSON(struct {
		Schema string `json:"schema"`
		Number string `json:"number"`
		Voided int    `json:"voided"`
	}{"loosebox/imports/1", number, voided})
}
