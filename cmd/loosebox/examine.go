package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
)

// examFlags are what an exam is begun with.
type examFlags struct {
	routine, by, reason string
	states              []string
	air, humid, globe   string
	medicine, given     string
	again               string // when the next check of the episode is due
	own                 bool   // although a colleague has the horse open on another laptop
}

func (e *env) examCommand() *cobra.Command {
	var f examFlags
	c := &cobra.Command{
		Use: "exam HORSE", Short: "the guided exam of a horse", Args: cobra.ExactArgs(1),
		Long: `exam begins an exam of a horse, or continues the unfinished one. With --plain, or
without a terminal, it asks line by line and reads answers from stdin. --again IN
begins a five-minute check, for example every half hour. loosebox episode shows
these checks side by side.

A colleague may have the horse open on another laptop. That is said first. --own begins
an exam of your own beside it. Both stay in the record.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.record(func(r *storage.Record) error { return e.examine(r, args[0], f) })
		},
	}
	c.Flags().StringVar(&f.routine, "routine", "", "the routine, by its name")
	c.Flags().StringVar(&f.by, "by", "", "who examines")
	c.Flags().StringVar(&f.reason, "reason", "", "why the horse is seen, in a few words")
	c.Flags().StringVar(&f.air, "air", "", "temperature of the air, 31C or 88F")
	c.Flags().StringVar(&f.humid, "humidity", "", "relative humidity in %, 65; with --air it gives the heat sum")
	c.Flags().StringVar(&f.globe, "wet-bulb-globe", "", "a measured wet-bulb globe temperature, 28C")
	c.Flags().StringSliceVar(&f.states, "state", nil, "what the horse did in the last 30 minutes: "+states())
	c.Flags().StringVar(&f.again, "again", "", "begin a five-minute check and set the next one: 30min, 1h, 20:00, or none")
	c.Flags().BoolVar(&f.own, "own", false, "begin an exam of your own, although a colleague has the horse open on another laptop")
	c.Flags().StringVar(&f.medicine, "medicine", "", "medicine in the last 24 hours: none, not known, pain, calm, other; with commas")
	c.Flags().StringVar(&f.given, "given", "", "what was given and when, in your own words; with --medicine")
	return c
}

func (e *env) examine(r *storage.Record, name string, f examFlags) error {
	h, err := findHorse(r, name)
	if err != nil {
		return err
	}
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	if err := e.tellClock(r); err != nil {
		return err
	}
	open, err := e.goesOn(r, h, f)
	if err != nil {
		return err
	}
	if f.again != "" {
		if open, err = e.beginAgain(d, h, open, f); err != nil {
			return err
		}
	}
	if !e.lineByLine() {
		to := nav.Address{Screen: nav.Start, Horse: h.ID, Routine: f.routine}
		if open != "" {
			to = nav.Address{Screen: nav.Exam, Horse: h.ID, Visit: open}
		}
		return e.screens(d, nav.Address{Screen: nav.Home}, to)
	}
	e.tell()
	if open != "" && (f.routine != "" || f.reason != "" || len(f.states) > 0 || f.air+f.humid+f.globe != "") {
		e.say("An open visit of this horse continues as it began. The options about its beginning are ignored.")
	}
	before, err := e.someoneElse(r, open, f.by, d.Settings.Person)
	if err != nil {
		return err
	}
	correct := exam.VisitID("")
	if open != "" && f.medicine != "" {
		correct = open
	}
	if open == "" {
		if open, err = e.begin(r, h, f, d.Settings); err != nil {
			return err
		}
	}
	by := f.by
	if by == "" {
		by = d.Settings.Person
	}
	if by == "" {
		if v, err := r.Visit(open); err == nil {
			by = v.By
		}
	}
	if correct != "" {
		if err := e.medicineBefore(r, correct, by, f); err != nil {
			return err
		}
	}
	if d.Warm != nil {
		go func() { _ = d.Warm() }() // an error comes again with the first answer
	}
	s := &plain.Session{Deps: d, In: e.typed(), Out: e.out, Person: by, Before: before, Terminal: e.inTerminal, Wait: e.pause}
	return e.left(r, s.Exam(open), open, h)
}

// left turns an exam that was left open into a message: nothing failed.
func (e *env) left(store exam.Store, err error, id exam.VisitID, h exam.Horse) error {
	if errors.Is(err, plain.ErrLeft) {
		return e.stopped(store, id, fmt.Sprintf("The visit stays open and every answer is saved. loosebox exam %q continues it.", h.Name))
	}
	return err
}

// tellClock says that the clock is behind a visit of the record.
func (e *env) tellClock(store exam.Store) error {
	horses, err := store.Horses()
	if text := exam.ClockBehind(exam.Newest(horses), e.now()); text != "" {
		e.say(text)
	}
	return err
}

// someoneElse is who worked last on an open visit that another person goes on with and has not named by --by; empty for
// none. A script is told to name the person: a line of it must not be taken for a name.
func (e *env) someoneElse(store exam.Store, open exam.VisitID, by, person string) (string, error) {
	if open == "" || by != "" {
		return "", nil
	}
	v, err := store.Visit(open)
	if err != nil || v.Worker() == person {
		return "", err
	}
	if !e.inTerminal {
		return "", usage("%s worked on this visit last: say who is working now with --by NAME", notation.CleanLine(v.Worker(), 60))
	}
	return v.Worker(), nil
}
