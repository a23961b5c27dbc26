package exam

import (
	"fmt"
	"time"
)

// maxOfList is how many points, tubes or diseases one line may hold; no
// procedure comes near it.
const maxOfList = 64

// CleanLines returns the entry with every text of its hand-off, decision,
// injection, draw, watch, recheck, amendment and closing safe to store and to draw; what the caller
// holds is not changed. Every store calls it before it writes.
func CleanLines(e Entry) (Entry, error) {
	if e.HandOff != nil {
		h := *e.HandOff
		lines(&h.To, (*string)(&h.How))
		h.Asked = CleanNote(h.Asked)
		e.HandOff = &h
	}
	lines(&e.WithoutHandOff)
	if e.Amend != nil {
		a := *e.Amend
		lines(&a.Why, (*string)(&a.Again))
		if a.Happened != nil {
			at := wholeOffset(*a.Happened)
			a.Happened = &at
		}
		e.Amend = &a
	}
	if e.Recheck != nil {
		r := *e.Recheck
		lines(&r.On, &r.What)
		if r.Time != nil {
			at := wholeOffset(*r.Time)
			r.Time = &at
		}
		e.Recheck = &r
	}
	if e.Watch != nil {
		w := *e.Watch
		lines((*string)(&w.Phase), &w.Sign, &w.SignWords, &w.Why)
		e.Watch = &w
	}
	for _, clean := range []func(*Entry) error{cleanDecision, cleanInjection, cleanDraw} {
		if err := clean(&e); err != nil {
			return e, err
		}
	}
	return e, nil
}

func lines(texts ...*string) {
	for _, t := range texts {
		*t = CleanLine(*t, 0)
	}
}

func tooLong(what string) error {
	return fmt.Errorf("%s holds more than any procedure does: nothing was written", what)
}

func cleanDecision(e *Entry) error {
	if e.Decision == nil {
		return nil
	}
	d := *e.Decision
	d.Words = CleanNote(d.Words)
	lines(&d.Vet, (*string)(&d.How), (*string)(&d.Ruling))
	if len(d.Covers) > maxOfList {
		return tooLong("a decision")
	}
	d.Covers = append([]Cover(nil), d.Covers...)
	for i := range d.Covers {
		c := &d.Covers[i]
		lines((*string)(&c.Kind), &c.Product, (*string)(&c.Route), &c.Dose, &c.For)
	}
	if d.Until != nil {
		until := wholeOffset(*d.Until)
		d.Until = &until
	}
	e.Decision = &d
	return nil
}

// wholeOffset leaves of a time what can be written: no monotonic reading, an
// offset in whole minutes.
func wholeOffset(t time.Time) time.Time {
	t = t.Round(0)
	if _, offset := t.Zone(); offset%60 != 0 {
		return t.UTC()
	}
	return t
}

func cleanInjection(e *Entry) error {
	if e.Injection == nil {
		return nil
	}
	l := *e.Injection
	lines((*string)(&l.Phase), &l.Needle, &l.Sign, &l.SignWords, &l.Why, &l.Disposal, &l.On, &l.Basis, &l.Product, (*string)(&l.Route))
	if l.GivenAt != nil {
		at := wholeOffset(*l.GivenAt)
		l.GivenAt = &at
	}
	cleanPlace(&l.Place)
	var err error
	if l.Checks, err = cleanChecks(l.Checks); err != nil {
		return err
	}
	if l.Order != nil {
		o := *l.Order
		lines(&o.Product, &o.Active, &o.Strength, &o.Maker, &o.Lot, &o.Expiry.Typed, &o.Expiry.Last, &o.Dose, &o.VolumeFrom,
			&o.WeightFrom, (*string)(&o.Route), &o.SupervisedBy, &o.Witness, &o.NextDue, &o.NotForFoodTo, &o.TagNumber, &o.Certificate,
			(*string)(&o.Without), &o.Vet, (*string)(&o.How), &o.Emergency)
		if len(o.Against) > maxOfList {
			return tooLong("an order")
		}
		o.Against = append([]string(nil), o.Against...)
		for i := range o.Against {
			lines(&o.Against[i])
		}
		l.Order = &o
	}
	e.Injection = &l
	return nil
}

func cleanDraw(e *Entry) error {
	if e.Draw == nil {
		return nil
	}
	l := *e.Draw
	lines((*string)(&l.Phase), &l.Needle, &l.Sign, &l.SignWords, &l.Why)
	cleanPlace(&l.Place)
	var err error
	if l.Checks, err = cleanChecks(l.Checks); err != nil {
		return err
	}
	if l.Tube != nil {
		t := *l.Tube
		lines(&t.Kind, &t.Label)
		l.Tube = &t
	}
	if l.Order != nil {
		o := *l.Order
		lines(&o.For, &o.VetDraws)
		if len(o.Tubes) > maxOfList {
			return tooLong("a blood draw")
		}
		o.Tubes = append([]Tube(nil), o.Tubes...)
		for i := range o.Tubes {
			lines(&o.Tubes[i].Kind, &o.Tubes[i].Label)
		}
		l.Order = &o
	}
	e.Draw = &l
	return nil
}

func cleanPlace(p *Place) { lines(&p.Site, (*string)(&p.Side), &p.Words) }

func cleanChecks(list []Checked) ([]Checked, error) {
	if len(list) > maxOfList {
		return nil, tooLong("a check list")
	}
	out := append([]Checked(nil), list...)
	for i := range out {
		lines(&out[i].Key, &out[i].Words)
	}
	return out, nil
}
