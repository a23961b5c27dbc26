package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/script"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

// following is what is gone through on the screens or line by line after an exam.
type following struct {
	command string
	screen  nav.Name
	kind    after.Kind // of the line that it would begin; empty where it begins none
	run     func(*plain.Session, exam.VisitID, int) error
}

// procedures are the commands of every kind of procedure that has one.
func (e *env) procedures() []*cobra.Command {
	var out []*cobra.Command
	for _, k := range script.Kinds() {
		if k.Command == "" {
			continue
		}
		c := e.procedure(k)
		if out = append(out, c); k.Name == script.Watch {
			e.declines(c)
		}
	}
	return out
}

// declines lets a watch be declined in one line.
func (e *env) declines(c *cobra.Command) {
	var decline string
	c.Flags().StringVar(&decline, "decline", "", "why the horse is not observed after the injection")
	screens := c.RunE
	c.RunE = func(c *cobra.Command, args []string) error {
		if !c.Flags().Changed("decline") {
			return screens(c, args)
		}
		if notation.CleanLine(decline, 0) == "" {
			return usage("type why the horse is not observed: --decline REASON")
		}
		number, _ := c.Flags().GetInt("number")
		by, _ := c.Flags().GetString("by")
		return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.decline(r, id, number, decline, by) })
	}
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
	entry := exam.Entry{Visit: v.ID, Kind: exam.EntryWatch, At: e.now(), Watch: &exam.WatchLine{Injection: number, Phase: exam.WatchDeclined, Why: exam.StopReason(why)}}
	if entry.By, err = e.person(r, by); err != nil {
		return err
	}
	return e.writeDown(r, entry, "loosebox/observe/1", false)
}

// procedure is the command that goes through one procedure of a visit.
func (e *env) procedure(k script.Kind) *cobra.Command {
	var number int
	var by string
	var byVet bool
	c := &cobra.Command{
		Use: k.Command + " VISIT", Short: k.Short, Args: cobra.ExactArgs(1),
		Example: "  loosebox " + k.Command + ` Bramble@last --by "Ann Bell"`,
		Long:    k.Long + "\n\nWith --plain, or without a terminal, it asks line by line and reads answers from\nstdin.",
		RunE: func(_ *cobra.Command, args []string) error {
			f := following{command: k.Command, screen: nav.Name(k.Name), kind: after.Kind(k.Name), run: func(s *plain.Session, id exam.VisitID, number int) error {
				return s.Procedure(k.Name, id, number)
			}}
			if byVet {
				f.kind, number = after.ByVet, script.ByVet
			}
			return e.ofJudgedVisit(args[0], func(r *storage.Record, id exam.VisitID) error { return e.follow(r, f, id, number, by) })
		},
	}
	c.Flags().IntVar(&number, "number", 0, "the number of one that was begun, in its visit")
	c.Flags().StringVar(&by, "by", "", "who does it")
	if k.ByVet {
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
		d.By = notation.CleanLine(by, 0)
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
		saved := "what was saved stays"
		if now, err := store.Visit(id); err == nil && now.Entries == v.Entries {
			saved = "nothing new was saved"
		}
		return e.stopped(store, id, fmt.Sprintf("Stopped here; %s. loosebox %s %s continues.", saved, f.command, id))
	}
	return err
}

// stopped says how an exam or a procedure of a visit was left: otherwise, or first that a needle is still in.
func (e *env) stopped(store exam.Store, id exam.VisitID, otherwise string) error {
	v, err := store.Visit(id)
	if err != nil {
		return err
	}
	open := script.Name("")
	switch {
	case len(v.OpenInjections()) > 0:
		open = script.Injection
	case len(v.OpenDraws()) > 0:
		open = script.BloodDraw
	default:
		e.say(otherwise)
		return nil
	}
	e.say(fmt.Sprintf("Stopped here. A needle is recorded as inserted, not as removed. loosebox %s %s asks what happened to it.", script.KindOf(open).Command, id))
	return nil
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

// findVisit is the visit with a number, or a sentence how to find it.
func findVisit(store exam.Store, id exam.VisitID) (exam.Visit, error) {
	v, err := store.Visit(id)
	if errors.Is(err, exam.ErrNotFound) {
		return v, exam.NoSuch("no visit has the number %q; loosebox visits HORSE lists them", notation.CleanLine(string(id), 40))
	}
	return v, err
}
