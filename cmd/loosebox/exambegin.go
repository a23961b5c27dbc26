package main

import (
	"cmp"
	"slices"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/nav"
)

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
	o, err := d.Again(h.ID, desk.NextCheck{Next: next, Reason: f.reason}, by, e.now())
	if err == nil {
		err = o.Partly
	}
	return o.Visit.ID, asUsage(err)
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
	others := exam.OpenElsewhere(past, e.now())
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
	return past[slices.IndexFunc(past, func(v exam.Visit) bool { return v.OpenElsewhere(e.now()) != "" })].ID, nil
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

func (e *env) noRoutine(name string) error {
	names := make([]string, len(e.routines))
	for i, r := range e.routines {
		names[i] = r.Name
	}
	return usage("no routine is called %q%s", notation.CleanLine(name, 40), thereAre(name, names))
}
