package main

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// practiceSchedule is the practice's own vaccination schedule in the data folder.
const practiceSchedule = "schedule.csv"

func (e *env) dueCommand() *cobra.Command {
	var all, asJSON bool
	c := &cobra.Command{
		Use: "due HORSE", Short: "what is due for a horse, by when, by whose schedule", Args: cobra.MaximumNArgs(1),
		Long: `due compares the doses in the record with a vaccination schedule. It shows what is
overdue, due or next, and which series is incomplete. It also lists the follow-ups
that were set in visits. The schedule is a guideline: the veterinarian's plan and
the product label override it. A practice can override rows with schedule.csv in
the data folder.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if all == (len(args) == 1) {
				return usage("name one horse, or --all")
			}
			schedule, err := e.schedule()
			if err != nil {
				return err
			}
			e.tell()
			return e.existing(func(r *storage.Record) error { return e.due(r, schedule, args, asJSON) })
		},
	}
	c.Flags().BoolVar(&all, "all", false, "every horse")
	jsonFlag(c, &asJSON)
	return c
}

// schedule is the vaccination schedule; a practice's file that was refused is told
// with the other problems.
func (e *env) schedule() (*due.Table, error) {
	table, problem, err := e.readSchedule()
	if problem != "" {
		e.problem("%s", problem)
	}
	return table, err
}

// scheduleOnce reads the schedule when a screen first asks for it.
func (e *env) scheduleOnce() func() (*due.Table, string, error) {
	type read struct {
		table   *due.Table
		problem string
		err     error
	}
	once := sync.OnceValue(func() (r read) {
		r.table, r.problem, r.err = e.readSchedule()
		return r
	})
	return func() (*due.Table, string, error) {
		r := once()
		return r.table, r.problem, r.err
	}
}

// readSchedule is the built-in schedule with the practice's own rows over it. A
// file that is refused is named in a sentence, and what is built in stays.
func (e *env) readSchedule() (table *due.Table, problem string, err error) {
	table, err = due.BuiltIn()
	if err != nil {
		return nil, "", fmt.Errorf("the built-in schedule cannot be read: %w", err)
	}
	f, err := e.openOwn(practiceSchedule)
	if err != nil {
		if !errors.Is(err, os.ErrNotExist) {
			problem = fmt.Sprintf("the practice's schedule cannot be read (%v); the built-in schedule is used", err)
		}
		return table, problem, nil
	}
	defer f.Close() //nolint:errcheck // read only
	own, err := table.With(f, practiceSchedule)
	if err != nil {
		return table, fmt.Sprintf("the practice's schedule is refused; the built-in schedule is used: %v", err), nil
	}
	return own, "", nil
}

func (e *env) due(store exam.Store, schedule *due.Table, args []string, asJSON bool) error {
	horses, err := e.horsesFor(store, args)
	if err != nil {
		return err
	}
	now, ctx := e.now(), e.context()
	if !e.outTerminal { // there the lists themselves show how far it is
		var end func()
		ctx, end = e.progress(ctx, "reading what is due:")
		defer end()
	}
	if asJSON {
		return e.printListJSON(due.NewDocument(schedule, now), func(take func(any) error) error {
			return schedule.Each(ctx, store, horses, now, func(l due.List) error { return take(l.Line()) })
		})
	}
	if err := schedule.Each(ctx, store, horses, now, e.printDue); err != nil {
		return err
	}
	return e.printf("%s\n%s\n", indented("Schedule: "+schedule.Version()+"."), indented(due.Overrides))
}

// horsesFor is the horse that was named, or all of them.
func (e *env) horsesFor(store exam.Store, args []string) ([]exam.Horse, error) {
	if len(args) == 1 {
		h, err := findHorse(store, args[0])
		return []exam.Horse{h}, err
	}
	all, err := store.Horses()
	if err != nil {
		return nil, err
	}
	horses := make([]exam.Horse, len(all))
	for i, f := range all {
		horses[i] = f.Horse
	}
	return horses, nil
}

func (e *env) printDue(l due.List) error {
	if err := e.printf("%s · %s · %s\n", l.Horse.Name, l.Horse.AgeWords(l.At), l.Part); err != nil {
		return err
	}
	for _, r := range l.Rechecks {
		text := fmt.Sprintf("%s: follow-up %s: %s (set by %s)", r.Status, r.When(e.now()), r.What, r.By)
		if err := e.printf("%s\n", indented(text)); err != nil {
			return err
		}
	}
	for _, i := range l.Items {
		if err := e.printf("%s\n", indented(dueLine(i))); err != nil {
			return err
		}
	}
	for _, text := range append(append([]string{}, l.Questions...), l.Notes...) {
		if err := e.printf("%s\n", indented("- "+text)); err != nil {
			return err
		}
	}
	return e.printf("\n")
}

// dueLine is one item for a person: status, what, when, why, whose schedule.
func dueLine(i due.DiseaseDue) string {
	when := ""
	switch {
	case i.By.IsZero():
	case i.From.Before(i.By):
		when = " " + notation.ShownSpan(i.From, i.By)
	default:
		when = " " + i.By.Format(notation.DayShown)
	}
	text := fmt.Sprintf("%s: %s%s. %s.", i.Status, i.Name, when, strings.Join(i.Why, "; "))
	if i.Row.Note != "" {
		text += " Note: " + i.Row.Note + "."
	}
	if i.Row.Source != "" {
		text += fmt.Sprintf(" (%s: %s)", i.Row.Evidence, i.Row.Source)
	}
	return text
}
