package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/storage"
	"loosebox/tui/screen/marks"
)

func (e *env) marksCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "marks REHEARSAL", Short: "the marks of one rehearsal, with the truth beside each answer", Args: cobra.ExactArgs(1),
		Long: `marks shows the marks of a finished rehearsal: order, missed steps, count errors,
findings, and three things to do better. They are worked out
again from the saved lines. REHEARSAL is the end of its number in loosebox
rehearsals, six characters or more, or last for the newest.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.marks(r, args[0], asJSON) })
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) marks(r *storage.Record, which string, asJSON bool) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	id, err := whichRehearsal(r.Rehearsals(), which, e.now())
	var entries []exam.Entry
	if err == nil {
		entries, err = r.Rehearsals().Entries(id)
	}
	if errors.Is(err, exam.ErrNotFound) {
		return exam.NoSuch("no rehearsal has the number %q; loosebox rehearsals lists them", notation.CleanLine(which, 40))
	}
	if err != nil {
		return err
	}
	m, err := marks.Reader(d).Marks(entries)
	v, _ := exam.Fold(entries)
	set, taken := rehearse.SetIn(v, e.steps)
	switch {
	case err == nil && taken && m.Finished && !set.MaySee(e.now()):
		return fmt.Errorf("the marks of the exam %q are shown %s; loosebox class shows them to the teacher", set.Title, set.Shown)
	case errors.Is(err, progress.ErrCannotMark):
		return fmt.Errorf("the rehearsal is saved, but %w", err)
	case err != nil:
		return err
	case !m.Finished:
		return errors.New("this rehearsal is not finished; finish it in its review to see the answers")
	case asJSON:
		return e.printJSON(m)
	}
	return e.printf("%s", rehearse.Text(m, pageWidth))
}

// whichRehearsal is the rehearsal that a text names; last is the newest that is finished.
func whichRehearsal(store exam.Store, text string, now time.Time) (exam.VisitID, error) {
	if text != "last" {
		return whichVisit(store, text, now)
	}
	all, err := store.Recent(0)
	for _, v := range all {
		if v.Closed() {
			return v.ID, err
		}
	}
	return "", errors.Join(err, exam.NoSuch("no rehearsal is finished yet"))
}

// rehearsalFlags are the flags of rehearsals.
type rehearsalFlags struct{ person, routine, as, file string }

func (e *env) rehearsalsCommand() *cobra.Command {
	var f rehearsalFlags
	var asJSON bool
	c := &cobra.Command{
		Use: "rehearsals", Short: "rehearsals over time, by person: order, misses, time and counts", Args: cobra.NoArgs,
		Long: `rehearsals lists all rehearsals by person, the newest first. Each is marked again
from its saved lines. It shows trends and repeated errors. Rehearsals are of
simulated horses and never mixed with real visits.`,
		RunE: func(*cobra.Command, []string) error {
			if asJSON {
				f.as = "json"
			}
			if f.as != "text" && f.as != "json" && f.as != "csv" {
				return usage("rehearsals can be listed as text, json or csv, not as %q", notation.CleanLine(f.as, 20))
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.rehearsals(r, f) })
		},
	}
	c.Flags().StringVar(&f.person, "person", "", "only those of this person")
	c.Flags().StringVar(&f.routine, "routine", "", "only those of this routine, by its name")
	c.Flags().StringVar(&f.as, "as", "text", "text, json or csv")
	c.Flags().BoolVar(&asJSON, "json", false, "the same as --as json")
	c.Flags().StringVarP(&f.file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) rehearsals(r *storage.Record, f rehearsalFlags) error {
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	points, not, err := marks.Reader(d).Read(r.Rehearsals())
	if err != nil {
		return err
	}
	people := []progress.Person{}
	for _, p := range progress.People(points) {
		if p = p.With(f.routine); len(p.Points) > 0 && (f.person == "" || p.Is(f.person)) {
			people = append(people, p)
		}
	}
	if f.person != "" && len(people) == 0 {
		return exam.NoSuch("nobody called %q has a rehearsal that can be marked; loosebox rehearsals lists everybody", notation.CleanLine(f.person, 40))
	}
	return e.toFile(f.file, func() error { return e.printRehearsals(people, not, f.as) })
}

func (e *env) printRehearsals(people []progress.Person, not []progress.Unmarked, as string) error {
	switch as {
	case "json":
		return e.printJSON(progress.NewDocument(people, not))
	case "csv":
		return progress.WriteCSV(e.out, people)
	}
	for i, p := range people {
		if i > 0 {
			if err := e.printf("\n"); err != nil {
				return err
			}
		}
		if err := e.printPerson(p); err != nil {
			return err
		}
	}
	for _, n := range not {
		e.say(fmt.Sprintf("not marked: %s, %s, %s: %s", notation.ShownAt(n.At, e.now()), n.By, shortNumber(n.Visit), n.Why))
	}
	if len(people) == 0 && len(not) == 0 {
		e.say("Nothing was rehearsed yet.")
	}
	return nil
}

// printPerson prints a table of a person's rehearsals, where each measure goes, and what goes wrong again.
func (e *env) printPerson(p progress.Person) error {
	if err := e.printf("%s: rehearsals %d, finished %d\n", p.Name, len(p.Points), len(p.Finished())); err != nil {
		return err
	}
	measures := progress.Measures()
	head := []string{"when", "case", "routine"}
	for _, m := range measures {
		head = append(head, m.Name)
	}
	rows := [][]string{append(head, "number")}
	for _, point := range p.Points {
		row := []string{notation.ShownAt(point.At, e.now()), point.Case, point.Routine}
		for _, m := range measures {
			text := "."
			if v, ok := m.Of(point); ok && point.Finished {
				text = m.Text(v)
			}
			row = append(row, text)
		}
		if !point.Finished {
			row[3] = "not finished"
		}
		rows = append(rows, append(row, shortNumber(point.Visit)))
	}
	if err := columns(e.out, rows); err != nil {
		return err
	}
	for _, m := range measures {
		if err := e.printTrend(p, m); err != nil {
			return err
		}
	}
	for _, w := range p.Weak(10) {
		if err := e.printf("again: %s, %d of %d\n", w.What, w.Times, w.Of); err != nil {
			return err
		}
	}
	for i, d := range p.Due() {
		if i == 5 {
			break
		}
		if err := e.printf("due: %s on %s, wrong in %d of %d (loosebox rehearse --drill %s)\n", d.Step, notation.ShownOn(d.At, e.now()), d.Wrong, d.Of, d.Step); err != nil {
			return err
		}
	}
	return nil
}

func (e *env) printTrend(p progress.Person, m progress.Measure) error {
	usual, ok := p.Usual(m)
	if !ok {
		return nil
	}
	finer := m
	finer.Decimals++
	return e.printf("%s: median %s, %s\n", strings.TrimSpace(m.Title), finer.Text(usual), p.Trend(m).Direction)
}
