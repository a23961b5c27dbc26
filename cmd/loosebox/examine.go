package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
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

// beginAgain begins the next check of an episode.
func (e *env) beginAgain(d *nav.Deps, h exam.Horse, open exam.VisitID, f examFlags) (exam.VisitID, error) {
	by := cmp.Or(notation.CleanLine(f.by, 0), d.Settings.Person)
	switch {
	case open != "":
		return "", usage("finish the open visit of %s first", h.Name)
	case by == "":
		return "", usage("say who examines: --by NAME")
	case f.routine != "" && f.routine != steps.FiveMinutes:
		return "", usage("--again begins the five-minute check; leave --routine out")
	}
	var next notation.Moment
	if f.again != "none" {
		var err error
		if next, err = notation.ReadMoment(f.again, e.now()); err != nil {
			return "", asUsage(err)
		}
		if next.At == nil {
			return "", usage("a check has an hour: --again 30min, 1h or 20:00, not %q", notation.CleanLine(f.again, 20))
		}
	}
	o, err := d.Again(h.ID, desk.Check{Next: next, Reason: f.reason}, by, e.now())
	if err == nil {
		err = o.Partly
	}
	return o.Visit.ID, asUsage(err)
}

func states() string {
	words := make([]string, len(exam.States()))
	for i, s := range exam.States() {
		words[i] = s.String()
	}
	return strings.Join(words, ", ")
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
	return e.left(s.Exam(open), h)
}

// left turns an exam that was left open into a message: nothing failed.
func (e *env) left(err error, h exam.Horse) error {
	if errors.Is(err, plain.ErrLeft) {
		e.say(fmt.Sprintf("The visit stays open and every answer is saved. loosebox exam %q continues it.", h.Name))
		return nil
	}
	return err
}

// goesOn is the open visit of a horse that an exam goes on with; empty where one is begun.
// Who has the horse open on another laptop is said, here or by the start form of the
// screens; that visit is gone on with only where nobody wants an exam of their own.
func (e *env) goesOn(store exam.Store, h exam.Horse, f examFlags) (exam.VisitID, error) {
	past, err := store.Past(h.ID, 0)
	if err != nil {
		return "", err
	}
	if v, open := exam.GoesOn(past); open {
		if f.own {
			return "", usage("finish the visit of %s that is open on this laptop first", h.Name)
		}
		return v.ID, nil
	}
	others := exam.OpenElsewhere(past)
	if others == "" || !e.lineByLine() {
		return "", nil
	}
	e.say(others)
	switch {
	case f.own, f.again != "":
		return "", nil
	case !e.mayAsk():
		e.say("Your answers go into that exam. --own begins an exam of your own; both stay.")
	case e.yes("Begin an exam of your own? Both stay. n goes on with the other one:"):
		return "", nil
	}
	return past[slices.IndexFunc(past, func(v exam.Visit) bool { return v.OpenElsewhere() != "" })].ID, nil
}

// begin opens a visit with the words of the command line.
func (e *env) begin(store exam.Store, h exam.Horse, f examFlags, set exam.Settings) (exam.VisitID, error) {
	by := notation.CleanLine(f.by, 0)
	if by == "" {
		by = set.Person
	}
	if by == "" {
		return "", usage("say who examines: --by NAME")
	}
	name := f.routine
	if name == "" {
		if name = steps.ByAge(h, e.now()); name == "" {
			name = set.Routine
		} else if _, ok := steps.Find(e.routines, name); !ok {
			name = set.Routine
		}
	}
	if name == "" {
		name = e.routines[0].Name
	}
	r, ok := steps.Find(e.routines, name)
	if !ok {
		return "", e.noRoutine(name)
	}
	context, err := contextOf(f)
	if err != nil {
		return "", err
	}
	opened, err := e.desk(store).Begin(exam.Opening{Horse: h, Routine: r.Name, Reason: f.reason}, context, by, e.now())
	if err == nil {
		err = opened.Partly
	}
	return opened.Visit.ID, err
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

// medicineBefore corrects what is said of medicine before the exam in a visit that is open.
func (e *env) medicineBefore(store exam.Store, id exam.VisitID, by string, f examFlags) error {
	said, err := contextOf(examFlags{medicine: f.medicine, given: f.given})
	if err != nil {
		return err
	}
	v, err := store.Visit(id)
	if err != nil {
		return err
	}
	c := v.Context
	c.Medicines, c.Given = said.Medicines, said.Given
	_, err = e.desk(store).Write(exam.Entry{Visit: id, Kind: exam.EntryContext, At: e.now(), By: by, Context: &c})
	return err
}

func contextOf(f examFlags) (exam.Context, error) {
	var c exam.Context
	var err error
	if c.Air, err = exam.ReadAir(f.air, notation.NoUnit); err != nil {
		return c, wrongUse("air", err)
	}
	if c.Humid, err = exam.ReadHumidity(f.humid); err != nil {
		return c, wrongUse("humidity", err)
	}
	if c.Globe, err = exam.ReadAir(f.globe, notation.NoUnit); err != nil {
		return c, wrongUse("wet-bulb-globe", err)
	}
	if c.Medicines, err = exam.ReadMedicines(f.medicine); err != nil {
		return c, wrongUse("medicine", err)
	}
	if c.Given = notation.CleanLine(f.given, exam.MaxGiven); c.Given != "" && (len(c.Medicines) == 0 || c.Medicines[0].Alone()) {
		return c, usage("--given says what was given: --medicine says what for (pain, calm, other)")
	}
	for _, w := range f.states {
		found := false
		for _, s := range exam.States() {
			if w != "" && s.Begins(w) {
				c.States = append(c.States, s)
				found = true
			}
		}
		if !found {
			return c, usage("--state is one of %s, not %q", states(), notation.CleanLine(w, 30))
		}
	}
	return c, nil
}

func (e *env) noRoutine(name string) error {
	names := make([]string, len(e.routines))
	for i, r := range e.routines {
		names[i] = r.Name
	}
	return usage("no routine is called %q%s; there are: %s", notation.CleanLine(name, 40), didYouMean(name, names), strings.Join(names, ", "))
}
