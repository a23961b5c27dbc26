package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/storage"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Widths of the text table: the place, the range, and one visit.
const (
	defaultVisits = 4
	placeWidth    = 34
	cellWidth     = 22
)

func (e *env) compareCommand() *cobra.Command {
	var last int
	var as string
	var asJSON bool
	c := &cobra.Command{
		Use: "compare HORSE", Short: "a horse's visits side by side, newest first", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if asJSON {
				as = "json"
			}
			if as != "text" && as != "json" {
				return usage("a comparison can be shown as text or json, not as %q", notation.CleanLine(as, 20))
			}
			if last < 1 {
				return usage("--last is how many visits, 1 or more")
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.compare(r, args[0], last, as) })
		},
	}
	c.Flags().IntVar(&last, "last", defaultVisits, "how many visits")
	c.Flags().StringVar(&as, "as", "text", "text or json")
	c.Flags().BoolVar(&asJSON, "json", false, "the same as --as json")
	return c
}

func (e *env) compare(store exam.Store, name string, last int, as string) error {
	h, err := findHorse(store, name)
	if err != nil {
		return err
	}
	past, err := store.Past(h.ID, 0)
	if err != nil {
		return err
	}
	past = exam.LookedAt(past)
	n := min(last, len(past))
	set, err := store.Settings()
	if err != nil {
		return err
	}
	if as != "json" {
		past = exam.ByClock(e.now(), past)
	}
	table := compare.VisitsIn(set.Units, past[:n], past[n:], e.judge, e.steps)
	table.Cover(past, e.routines, e.steps)
	if as == "json" {
		d := table.Document()
		d.Horse = compare.DocumentOf{ID: h.ID, Name: h.Name}
		return e.printJSON(d)
	}
	if n == 0 {
		return e.printf("%s has no visits yet.\n", h.Name)
	}
	return e.printTable(table)
}

// printTable writes a row a place: its range, what changed, and each visit with
// the sign of its level.
func (e *env) printTable(t compare.Table) error {
	head, levels, dates := []string{"", "usual"}, []string{"level so far", ""}, t.Dates()
	for _, c := range t.Columns {
		head = append(head, dates.Show(c.At))
		levels = append(levels, fmt.Sprintf("%s (%s answered)", rated(c.Coverage.Rated(c.Level)), c.Coverage.Short()))
	}
	rows := [][]string{append(head, "change"), append(levels, "")}
	for _, r := range t.Rows {
		row := []string{layout.Cut(r.Place(), placeWidth), span(r.Low, r.High, r.Unit)}
		for _, c := range r.Cells {
			row = append(row, layout.Cut(cellText(c), cellWidth))
		}
		rows = append(rows, append(row, r.Change.Means))
	}
	if err := columns(e.out, rows); err != nil {
		return err
	}
	if err := e.printf("signs: ~ %s, ? %s, ! %s, x not done\n", ranges.LevelNote, ranges.LevelRecheck, ranges.LevelTell); err != nil {
		return err
	}
	if err := e.printUnsettled(t); err != nil {
		return err
	}
	return e.printCorrected(t)
}

// printUnsettled says who gave which of the answers that nobody has settled.
func (e *env) printUnsettled(t compare.Table) error {
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			if c.Unsettled == "" {
				continue
			}
			line := fmt.Sprintf("%s, %s: not settled: %s", r.Place(), t.Dates().Show(t.Columns[i].At), c.Unsettled)
			if err := e.printf("%s\n", notation.CleanNote(line)); err != nil {
				return err
			}
		}
	}
	return nil
}

// printCorrected says what stood before each correction.
func (e *env) printCorrected(t compare.Table) error {
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			for _, old := range c.Before {
				why := ""
				if old.Why != "" {
					why = ": " + old.Why.String()
				}
				line := fmt.Sprintf("corrected: %s, %s: before %s, by %s; corrected by %s at %s%s", r.Place(), t.Dates().Show(t.Columns[i].At),
					old.Text, old.By, old.CorrectedBy, notation.ShownAt(old.CorrectedAt, e.now()), why)
				if err := e.printf("%s\n", notation.CleanNote(line)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func cellText(c compare.Cell) string {
	switch {
	case c.Empty:
		return ""
	case c.NotDone != "" && c.Corrected:
		return "x " + c.NotDone.String() + " (corrected)"
	case c.NotDone != "":
		return "x " + c.NotDone.String()
	case c.Corrected:
		return theme.Mark(c.Level) + " " + c.Text + " (corrected)"
	default:
		return theme.Mark(c.Level) + " " + c.Text
	}
}

func span(low, high *float64, u notation.Unit) string {
	text := notation.Ends(low, high, 1)
	if text == "" || u == notation.NoUnit || u == notation.Points {
		return text
	}
	return text + " " + string(u)
}
