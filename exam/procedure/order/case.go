// Package order is what is filled in before a needle: the order of an injection or
// of a blood draw as a list of fields, the volume with how it was found, and the
// check list with the letter of each answer. It draws nothing and writes nothing.
package order

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Stand is a visit as it stands in the record, with what it is judged by.
type Stand struct {
	desk.Judged
	Horse exam.Horse // its newest revision
}

// Behind is a sentence that the clock is behind the horse's newest visit, so that an expired product may look good and a
// label get a wrong day; empty where it is not.
func (s Stand) Behind(now time.Time) string { return exam.ClockBehind(s.newest(), now) }

func (s Stand) newest() (at time.Time) {
	for _, v := range s.All {
		if v.OpenedAt.After(at) {
			at = v.OpenedAt
		}
	}
	return at
}

// Look reads a visit and the horse's others. It waits for the store.
func Look(d desk.Desk, id exam.VisitID) (Stand, error) {
	seen, err := d.Read(id)
	if err != nil {
		return Stand{}, err
	}
	s := Stand{Judged: seen, Horse: seen.Visit.Horse}
	if h, err := d.Store.Horse(s.Horse.ID); err == nil {
		s.Horse = h
	}
	return s, nil
}

// Write writes the entries of one visit, each checked and durable before the next.
// What was written before an error stays; the visit comes back as it stands then. An
// *notation.Refusal or an *exam.Locked means that nothing was written for that entry.
func Write(d desk.Desk, entries ...exam.Entry) (Stand, error) {
	_, failed := d.WriteAll(entries...)
	s, err := Look(d, entries[0].Visit)
	if failed == nil {
		failed = err
	}
	return s, failed
}

// Job is a visit that is worked on: by whom, under which rules, and when.
type Job struct {
	Stand
	Person string // who works now
	// Named says that the person was named for this run, and signs what somebody else
	// began.
	Named bool
	Rules procedure.Rules
	Call  string // how the veterinarian is reached; empty where nobody set it
	// Chosen is what of the decision was chosen before the script began; the zero value where it asks.
	Chosen   exam.CoveredProcedure
	Syringes []volume.Syringe // the practice's own table; nil for the built-in one
	Units    notation.Units   // in which the person works
	Now      func() time.Time
	Waits    *exam.Waits // of this run; nil for the clock on the wall alone
}

// Uses lists where needles went into this horse, the newest first.
func (s Stand) Uses() []procedure.Use { return procedure.Uses(s.All) }

// Weight is the horse's last weight in the record, this visit's first; the zero
// value where it was never weighed.
func (s Stand) Weight(now time.Time) volume.Weight {
	return volume.Known(append([]exam.Visit{s.Visit}, s.Earlier...), now)
}

// Open lists what may be injected now: each product and route that a decision
// covers. Where there is none the error is an *exam.Locked that says why.
func (s Stand) Open(now time.Time) ([]exam.CoveredProcedure, error) {
	var open []exam.CoveredProcedure
	var why error
	for _, d := range slices.Backward(s.Visit.Decisions) {
		for _, c := range d.Covers {
			if d.Corrected || c.Kind != exam.Injecting || c.Product == "" {
				continue
			}
			p := exam.Procedure{Kind: exam.Injecting, Product: c.Product, Route: c.Route, At: now}
			covering, err := authorization.Covering(s.Visit, s.Verdict.Remarks, p)
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
		_, why = authorization.Covering(s.Visit, s.Verdict.Remarks, exam.Procedure{Kind: exam.Injecting, At: now})
	}
	return nil, why
}

// Covering is the decision that lets an order be given now; number is that of the
// injection, 0 while it is not begun. The error is an *exam.Locked, or an
// *notation.Refusal where the order lacks what it is compared by.
func (s Stand) Covering(o exam.Order, number int, now time.Time) (exam.Decided, error) {
	p := exam.Procedure{Kind: exam.Injecting, Product: o.Product, Route: o.Route, At: now, Order: &o, Number: number}
	return authorization.Covering(s.Visit, s.Verdict.Remarks, p)
}

// Drawing is the decision that lets blood be drawn now; the error is an
// *exam.Locked.
func (s Stand) Drawing(now time.Time) (exam.Decided, error) {
	return authorization.Covering(s.Visit, s.Verdict.Remarks, exam.Procedure{Kind: exam.Drawing, At: now})
}
