// Package needle is what the screens and the plain prompts of an injection, a
// blood draw and a watch share: a visit as it stands, the gate that every line
// passes before it is written, the questions of an order, and what comes next.
// It draws nothing.
package needle

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
)

// Stand is a visit as it stands in the record, with what it is judged by.
type Stand struct {
	Visit   exam.Visit
	Horse   exam.Horse    // its newest revision
	Earlier []exam.Visit  // of the horse, before this one, newest first
	All     []exam.Visit  // of the horse, this one among them
	Remarks []exam.Remark // the judge's on the visit
}

// Look reads a visit and the horse's others. It reads the store: screens call it
// in commands.
func Look(d *nav.Deps, id exam.VisitID) (Stand, error) {
	v, err := d.Store.Visit(id)
	if err != nil {
		return Stand{}, fmt.Errorf("this visit cannot be read; nothing was changed: %w", err)
	}
	all, err := d.Store.Past(v.Horse.ID, 0)
	if err != nil {
		return Stand{}, fmt.Errorf("earlier visits cannot be read; nothing was changed: %w", err)
	}
	s := Stand{Visit: v, Horse: v.Horse, All: all}
	if h, err := d.Store.Horse(v.Horse.ID); err == nil {
		s.Horse = h
	}
	for _, p := range all {
		if p.ID != id && p.OpenedAt.Before(v.OpenedAt) {
			s.Earlier = append(s.Earlier, p)
		}
	}
	s.Remarks = d.Judge.Visit(v, s.Earlier).Remarks
	return s, nil
}

// Write asks the gate on the visit as it stands in the store now and writes the
// entries of one visit, each durable before the next. What was written before an
// error stays, and the returned visit holds it. An *exam.Refusal or an
// *exam.Locked comes back as it is; nothing was written for that entry then.
func Write(d *nav.Deps, entries ...exam.Entry) (Stand, error) {
	var s Stand
	for i, e := range entries {
		var err error
		if s, err = Look(d, e.Visit); err != nil {
			return s, err
		}
		if err := exam.Admit(s.Visit, s.Remarks, e); err != nil {
			return s, err
		}
		stored, err := d.Store.Append(e)
		if err != nil {
			return s, fmt.Errorf("that is NOT written down, everything before it is: %w", err)
		}
		if i == len(entries)-1 {
			return s.with(d, stored)
		}
	}
	return s, nil
}

// with folds what was just stored, so that it need not be read again.
func (s Stand) with(d *nav.Deps, e exam.Entry) (Stand, error) {
	if err := s.Visit.Apply(e); err != nil {
		return Look(d, e.Visit)
	}
	s.All = slices.Clone(s.All)
	for i := range s.All {
		if s.All[i].ID == s.Visit.ID {
			s.All[i] = s.Visit
		}
	}
	s.Remarks = d.Judge.Visit(s.Visit, s.Earlier).Remarks
	return s, nil
}

// Uses lists where needles went into this horse, the newest first.
func (s Stand) Uses() []procedure.Use { return procedure.Uses(s.All) }

// Open lists what may be injected now: each product and route that a decision
// covers. Where there is none the error is an *exam.Locked that says why.
func (s Stand) Open(now time.Time) ([]exam.Cover, error) {
	var open []exam.Cover
	var why error
	for _, d := range slices.Backward(s.Visit.Decisions) {
		for _, c := range d.Covers {
			if d.Corrected || c.Kind != exam.Injecting || c.Product == "" {
				continue
			}
			p := exam.Procedure{Kind: exam.Injecting, Product: c.Product, Route: c.Route, At: now}
			covering, err := exam.Covering(s.Visit, s.Remarks, p)
			switch {
			case err != nil && why == nil:
				why = err
			case err == nil && covering.Seq == d.Seq:
				open = append(open, c)
			}
		}
	}
	if len(open) > 0 {
		return open, nil
	}
	if why == nil {
		_, why = exam.Covering(s.Visit, s.Remarks, exam.Procedure{Kind: exam.Injecting, At: now})
	}
	return nil, why
}

// Covering is the decision that lets an injection go on now; the error is an
// *exam.Locked.
func (s Stand) Covering(o exam.Order, now time.Time) (exam.Decided, error) {
	return exam.Covering(s.Visit, s.Remarks, exam.Procedure{Kind: exam.Injecting, Product: o.Product, Route: o.Route, At: now})
}

// Drawing is the decision that lets blood be drawn now; the error is an
// *exam.Locked.
func (s Stand) Drawing(now time.Time) (exam.Decided, error) {
	return exam.Covering(s.Visit, s.Remarks, exam.Procedure{Kind: exam.Drawing, At: now})
}

// Given are the lines that end an injection as given: the line itself, and the
// beginning of the watch where the practice has set its minutes.
func Given(d *nav.Deps, e exam.Entry, l exam.InjectionLine) []exam.Entry {
	e.Kind, e.Injection = exam.EntryInjection, &l
	given := exam.Injection{Number: l.Number, State: exam.InjectionGiven}
	watch, watched := given.Begin(procedure.RulesOf(d.Settings).WatchMinutes)
	if !watched {
		return []exam.Entry{e}
	}
	w := e
	w.Kind, w.Injection, w.Watch = exam.EntryWatch, nil, &watch
	return []exam.Entry{e, w}
}
