package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/storage"
)

// roundFlags are what the commands of a round share.
type roundFlags struct {
	day, by, words, to, onDay string
	asJSON                    bool
}

func (e *env) roundCommand() *cobra.Command {
	f := &roundFlags{}
	c := &cobra.Command{
		Use: "round", Short: "the day's horses in the order to see them, each with its reason", Args: cobra.NoArgs,
		Long: `round lists the horses to see today: open exams, follow-ups, due doses, picked
horses, and horses of an earlier day. Horses at "tell the vet" come first,
by danger signs, then the very young. Contagious signs, fevers and known infections
come last. The veterinarian and local rules stand above this order.

round pick, skip, seen and reassign change it.`,
		RunE: func(*cobra.Command, []string) error {
			return e.withRound(f, func(r *storage.Record, plan round.Round) error { return e.printRound(plan, f.asJSON) })
		},
	}
	c.PersistentFlags().StringVar(&f.day, "day", "", "another day than today, as 2026-03-04")
	jsonFlag(c, &f.asJSON)
	c.AddCommand(
		e.roundAct(f, "pick HORSE", "add a horse to the round", exam.RoundPicked),
		e.roundAct(f, "skip HORSE", "skip a horse on the day's round", exam.RoundLeftOut),
		e.roundAct(f, "seen HORSE", "a horse was seen without an exam", exam.RoundSeen),
		e.roundAct(f, "reassign HORSE", "reassign a horse, --to a person with --words, or --on another day", exam.RoundHanded),
	)
	return c
}

// roundAct is a command that writes one line of a round.
func (e *env) roundAct(f *roundFlags, use, short string, act exam.RoundAct) *cobra.Command {
	c := &cobra.Command{
		Use: use, Short: short, Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.existing(func(r *storage.Record) error { return e.addToRound(r, f, args[0], act) })
		},
	}
	c.Flags().StringVar(&f.words, "words", "", "why, in a few words")
	byFlag(c, &f.by, "who decides it")
	if act == exam.RoundHanded {
		c.Flags().StringVar(&f.to, "to", "", "the other person")
		c.Flags().StringVar(&f.onDay, "on", "", "the other day, as 2026-03-04")
	}
	return c
}

func (e *env) addToRound(store exam.Store, f *roundFlags, name string, act exam.RoundAct) error {
	day, err := f.dayOr(e.now())
	if err != nil {
		return err
	}
	h, err := findHorse(store, name)
	if err != nil {
		return err
	}
	by := f.by
	if by == "" {
		set, err := store.Settings()
		if err != nil {
			return err
		}
		by = set.Person
	}
	if by == "" {
		return usage("say who decides it: --by NAME")
	}
	l := exam.CleanRoundLine(exam.RoundLine{
		Day: day, At: e.now(), By: by, Horse: h.ID, Act: act, Words: f.words, To: f.to, OnDay: f.onDay,
	})
	if err := l.Check(); err != nil {
		return usage("%v", err)
	}
	if err := store.AddToRound(l); err != nil {
		return err
	}
	return e.printf("%s: %s on the round of %s.\n", h.Name, act, notation.Shown(day))
}

// dayOr is the day of the flag, or today.
func (f *roundFlags) dayOr(now time.Time) (string, error) {
	if f.day == "" {
		return round.Today(now), nil
	}
	day, err := notation.Calendar{}.ISO(f.day)
	if err != nil {
		return "", usage("%v", err)
	}
	at, err := time.Parse(notation.DayForm, day)
	if err != nil {
		return "", usage("--day is written as 2026-03-04 or \"4 Mar 2026\", not %q", notation.CleanLine(f.day, 20))
	}
	return at.Format(notation.DayForm), nil
}

// withRound reads the round of a day.
func (e *env) withRound(f *roundFlags, work func(*storage.Record, round.Round) error) error {
	day, err := f.dayOr(e.now())
	if err != nil {
		return err
	}
	schedule, err := e.schedule()
	if err != nil {
		return err
	}
	if err := e.tables(); err != nil {
		return err
	}
	e.tell()
	return e.existing(func(r *storage.Record) error {
		ctx, end := e.progress(e.ctx, "reading the round:")
		plan, err := round.Read(ctx, r, day, e.now(), schedule, e.judge)
		end()
		if err != nil {
			return err
		}
		return work(r, plan)
	})
}

func (e *env) printRound(r round.Round, asJSON bool) error {
	if asJSON {
		return e.printJSON(round.NewDocument(r, e.now()))
	}
	n := r.Count()
	if err := e.printf("round of %s: %d of %d done%s\n", notation.Shown(r.Day), n.Done, n.Total, others(n)); err != nil {
		return err
	}
	if len(r.Calls) == 0 {
		return e.printf("  nothing is due; loosebox round pick HORSE adds a horse.\n")
	}
	group := round.Group(-1)
	for _, c := range r.Calls {
		if c.Group != group {
			group = c.Group
			if err := e.printf("%s\n", group); err != nil {
				return err
			}
		}
		if err := e.printf("%s\n", indented(roundLine(c))); err != nil {
			return err
		}
	}
	return e.printf("%s\n", indented("Order: "+round.SourceTold+"; "+round.SourceFirst+"; "+round.SourceLast+". The veterinarian and local rules stand above it."))
}

// others are those that are not part of the day's sum.
func others(n round.Counts) string {
	text := ""
	if n.Handed > 0 {
		text += fmt.Sprintf(", %d reassigned", n.Handed)
	}
	if n.LeftOut > 0 {
		text += fmt.Sprintf(", %d skipped", n.LeftOut)
	}
	return text
}

// roundLine is one horse for a person: state, who, where, cautions, why, and why here.
func roundLine(c round.Call) string {
	h := c.Horse
	parts := []string{h.Name}
	for _, p := range []struct{ lead, text string }{{"", h.Place}, {"owner ", h.Owner}, {"caution: ", strings.Join(h.Cautions, ", ")}} {
		if p.text != "" {
			parts = append(parts, p.lead+p.text)
		}
	}
	text := c.State.String() + ": " + strings.Join(parts, " · ")
	reasons := make([]string, len(c.Reasons))
	for i, r := range c.Reasons {
		reasons[i] = r.Words
	}
	text += ". " + strings.Join(reasons, "; ") + "."
	if c.Told != nil {
		text += " " + strings.Join(append([]string{c.Told.Line()}, c.Told.Lines()...), "; ") + "."
	}
	if c.Note != "" {
		text += " " + c.Note + "."
	}
	if c.Group != round.Ordinary && c.Group != round.Urgent {
		text += " Order: " + c.Why + "."
	}
	return text
}
