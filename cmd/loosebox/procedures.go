package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/script"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

// following is a command that goes through an injection, a draw or a watch of a visit.
type following struct {
	use, short, long string
	screen           nav.Name
	kind             after.Kind // of what it would begin; empty where it begins nothing
	run              func(*plain.Session, exam.VisitID, int) error
	byVet            func(*plain.Session, exam.VisitID, int) error // without an earlier decision; nil for none
}

func (e *env) injectCommand() *cobra.Command {
	return e.following(following{
		use: "inject VISIT", short: "one injection of a visit that the veterinarian decided on", screen: nav.Injection, kind: after.Injection, run: (*plain.Session).Inject,
		long: `inject goes through one injection: the order as the label reads, the check list,
the site, the needle and what is seen, the product, and the watch that follows. It
asks before it begins, before the needle goes in and before the product does
whether a decision of the veterinarian covers it; where none does, it ends with
code 6. An order whose dose or volume is not what was decided is refused until the
veterinarian's changed order is saved, and one order is one dose. After an
interruption it asks what happened to the needle.

--by-vet saves what the veterinarian gave with their own hands, or ordered aloud in
an emergency, after it was given: it needs no earlier decision, and says whose word
it was.`,
		byVet: (*plain.Session).ByVet,
	})
}

func (e *env) drawCommand() *cobra.Command {
	return e.following(following{
		use: "draw VISIT", short: "one blood draw of a visit that the veterinarian decided on", screen: nav.Draw, kind: after.Draw, run: (*plain.Session).Draw,
		long: `draw goes through one blood draw: what it is for, the tubes in the order of draw,
each with its label, beside how much blood may go, the vein, and each tube as it is
filled. Where no decision of the veterinarian covers it, it ends with code 6.`,
	})
}

func (e *env) watchCommand() *cobra.Command {
	c := e.following(following{
		use: "observe VISIT", short: "the watch after an injection: how long it runs, and how it ended", screen: nav.Watch, run: (*plain.Session).Watch,
		long: `observe shows how long a horse is still to be watched after an injection, what to
look for, and takes down how it ended: nothing seen at its end, a reaction, or left
before the end and why. A watch that nobody began is begun here, or declined.
--number is that of the injection; without it the watch that ends first.
--decline REASON writes down at once that the horse is not watched, by whom and why.`,
	})
	var decline string
	c.Flags().StringVar(&decline, "decline", "", "the horse is not watched after the injection: why")
	screens := c.RunE
	c.RunE = func(c *cobra.Command, args []string) error {
		if !c.Flags().Changed("decline") {
			return screens(c, args)
		}
		if notation.CleanLine(decline, 0) == "" {
			return usage("say why the horse is not watched: --decline REASON")
		}
		if err := e.tables(); err != nil {
			return err
		}
		number, _ := c.Flags().GetInt("number")
		by, _ := c.Flags().GetString("by")
		return e.ofVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.decline(r, id, number, decline, by) })
	}
	return c
}

func (e *env) consentCommand() *cobra.Command {
	return e.following(following{
		use: "consent VISIT", short: "for the record: consent, who was there, a product under control", screen: nav.Record, run: (*plain.Session).Consent,
		long: `consent writes down what rules of records ask for beside the exam: consent, given or
refused, by whom and how; who held the horse, who examined and who supervised, and
in which role; of a product under control what was drawn, given and wasted, the
balance and the second person. Nothing of it has to be filled in; what is filled in
stands on the pages. It is no log that a law asks for.`,
	})
}

// decline writes down that a horse is not watched after an injection; number 0 is
// the first of which that is still to do.
func (e *env) decline(r *storage.Record, id exam.VisitID, number int, why, by string) error {
	v, err := findVisit(r, id)
	if err != nil {
		return err
	}
	if left := v.Unwatched(); number == 0 && len(left) > 0 {
		number = left[0].Number
	}
	entry := exam.Entry{Visit: v.ID, Kind: exam.EntryWatch, At: e.now(), Watch: &exam.WatchLine{Injection: number, Phase: exam.WatchDeclined, Why: why}}
	if entry.By, err = e.person(r, by); err != nil {
		return err
	}
	return e.writeDown(r, entry, "loosebox/observe/1", false)
}

func (e *env) following(f following) *cobra.Command {
	var number int
	var by string
	var byVet bool
	c := &cobra.Command{
		Use: f.use, Short: f.short, Args: cobra.ExactArgs(1),
		Long: f.long + "\n\nWith --plain, or without a terminal, the questions come line by line and the\nanswers are read from stdin, one a line.",
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			if byVet {
				f.run, f.kind, number = f.byVet, after.ByVet, script.ByVet
			}
			return e.ofVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.follow(r, f, id, number, by) })
		},
	}
	c.Flags().IntVar(&number, "number", 0, "the number of one that was begun, in its visit")
	c.Flags().StringVar(&by, "by", "", "who does it")
	if f.byVet != nil {
		c.Flags().BoolVar(&byVet, "by-vet", false, "save what the veterinarian gave, or ordered aloud in an emergency")
	}
	return c
}

func (e *env) follow(store *storage.Record, f following, id exam.VisitID, number int, by string) error {
	v, err := findVisit(store, id)
	if err != nil {
		return err
	}
	d, err := e.deps(store)
	if err != nil {
		return err
	}
	if !e.lineByLine() {
		if err := e.screens(d, nav.Address{Screen: nav.Home}, nav.Address{Screen: f.screen, Horse: v.Horse.ID, Visit: id, Number: number}); err != nil {
			return err
		}
		return stillLocked(d, f.kind, v)
	}
	e.tell()
	if by = notation.CleanLine(by, 0); by == "" {
		by = d.Settings.Person
	}
	s := &plain.Session{Deps: d, In: e.typed(), Out: e.out, Person: by, Terminal: e.inTerminal, Wait: e.pause}
	err = f.run(s, id, number)
	if errors.Is(err, plain.ErrLeft) {
		e.say(fmt.Sprintf("It is left here, and what was written down stays; loosebox %s %s goes on.", f.name(), id))
		return nil
	}
	return err
}

// stillLocked is the reason why nothing was entered on the screens: no decision
// covers what was wanted. Nil where something was entered, or could have been.
func stillLocked(d *nav.Deps, kind after.Kind, before exam.Visit) error {
	seen, err := d.Read(before.ID)
	if err != nil || seen.Visit.Entries > before.Entries {
		return err
	}
	var why error
	for _, l := range d.Following(seen, d.Settings, d.Now()) {
		switch {
		case l.Kind != kind:
		case l.State == after.Open:
			return nil
		case l.State == after.Locked:
			why = &exam.Locked{Why: l.Why}
		}
	}
	return why
}

func (f following) name() string { return strings.Fields(f.use)[0] }

// findVisit is the visit with a number, or a sentence how to find it.
func findVisit(store exam.Store, id exam.VisitID) (exam.Visit, error) {
	v, err := store.Visit(id)
	if errors.Is(err, exam.ErrNotFound) {
		return v, exam.NoSuch("no visit has the number %q; loosebox visits HORSE lists them", notation.CleanLine(string(id), 40))
	}
	return v, err
}
