package round

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

// ReasonKind is where a reason for seeing a horse comes from.
type ReasonKind string

// The kinds.
const (
	Open      ReasonKind = "open visit"
	Recheck   ReasonKind = "recheck"
	Dose      ReasonKind = "dose due"
	Picked    ReasonKind = "picked"
	Carried   ReasonKind = "carried over"
	Left      ReasonKind = "left from before"
	Unplanned ReasonKind = "not planned"
)

// Reason is why a horse is on the round.
type Reason struct {
	Kind  ReasonKind `json:"kind"`
	Day   string     `json:"day"` // by which or since which
	Words string     `json:"words"`
}

// A dose brings a horse on the round so many days before its last day, and no
// longer than a year after it: what is later still stands in the list of what is
// due. Both are our own.
const (
	DoseDaysAhead = 7
	DoseDaysLate  = 365
)

// plan is one horse on its way onto the round.
type plan struct {
	Yard
	day      string
	at       time.Time
	said     decision
	schedule *due.Table
	again    []due.Recheck // unmet rechecks, which bring the horse back the same day
	judge    *judge.Judge
	urgent   *ForVet
}

// call is the horse's line of the round; false where nothing puts it there.
func (p *plan) call() (Call, bool) {
	c := Call{Horse: p.Horse, State: Waiting}
	c.Reasons = append(p.byRecord(), p.said.reasons()...)
	p.again = p.unmet()
	p.state(&c)
	if len(c.Reasons) == 0 {
		if c.State == Waiting || c.State == LeftOut {
			return c, false
		}
		words := "seen this day without being planned"
		if c.State == Begun || c.State == Handed && c.Visit != "" { // handed over with its open exam
			words = "its exam was begun this day"
		}
		c.Reasons = []Reason{{Unplanned, p.day, words}}
	}
	p.urgent = p.told()
	c.Hour, c.Told = p.hour(), p.urgent
	c.Group, c.Why = p.place()
	return c, true
}

// hour is that of the first recheck that has one; zero for none.
func (p *plan) hour() (first time.Time) {
	for _, r := range p.again {
		if r.Time != nil && (first.IsZero() || r.Time.Before(first)) {
			first = *r.Time
		}
	}
	return first
}

// earlier are the visits as they stood before the day, so that a horse does not
// leave the round by being seen.
func (p *plan) earlier() []exam.Visit {
	var out []exam.Visit
	for i := range p.Visits {
		if dayOf(p.Visits[i].OpenedAt) < p.day {
			out = append(out, p.Visits[i])
		}
	}
	return out
}

// byRecord are the reasons that the record gives.
func (p *plan) byRecord() []Reason {
	var out []Reason
	earlier := p.earlier()
	for _, v := range earlier {
		if !v.Closed() || dayOf(*v.ClosedAt) >= p.day {
			out = append(out, Reason{Open, dayOf(v.OpenedAt), fmt.Sprintf("the exam begun on %s is not finished", p.begun(v))})
		}
	}
	if p.schedule == nil {
		return out
	}
	l := p.schedule.For(p.Horse, earlier, p.at)
	for _, r := range append(l.Rechecks, p.setToday()...) {
		if r.Status == due.Overdue || r.Status == due.Due {
			out = append(out, Reason{Recheck, r.On, fmt.Sprintf("follow-up %s %s: %s", r.Status, p.when(r), r.What)})
		}
	}
	return append(out, p.doses(l.Items)...)
}

// when is the time of a recheck; of one of this day only its hour, which a narrow
// window has room for.
func (p *plan) when(r due.Recheck) string {
	if r.Time != nil && r.On == p.day {
		return notation.Clock(*r.Time, p.at)
	}
	return r.When(p.at)
}

// setToday are the rechecks that visits of this day set for the same day: 1h, tonight.
func (p *plan) setToday() []due.Recheck {
	var out []due.Recheck
	for i := range p.Visits {
		if dayOf(p.Visits[i].OpenedAt) == p.day {
			out = append(out, due.Rechecks(p.Visits[i:i+1], p.at)...)
		}
	}
	return slices.DeleteFunc(out, func(r due.Recheck) bool { return r.On > p.day })
}

// unmet are the rechecks of this day, or before it, that no visit up to the end of
// the day has met, the earliest first. Until they are met the horse is not done.
func (p *plan) unmet() []due.Recheck {
	var until []exam.Visit
	for i := range p.Visits {
		if dayOf(p.Visits[i].OpenedAt) <= p.day {
			until = append(until, p.Visits[i])
		}
	}
	return slices.DeleteFunc(due.Rechecks(until, p.at), func(r due.Recheck) bool { return r.On > p.day })
}

// begun is the day of a visit, with its time where another has the same day.
func (p *plan) begun(v exam.Visit) string {
	for i := range p.Visits {
		if p.Visits[i].ID != v.ID && dayOf(p.Visits[i].OpenedAt) == dayOf(v.OpenedAt) {
			return v.OpenedAt.Format(notation.DayShown + " 15:04")
		}
	}
	return v.OpenedAt.Format(notation.DayShown)
}

// doses are one reason for all that is due. A schedule that is only begun because
// no dose is in the record puts no horse on the round: papers may show one.
func (p *plan) doses(items []due.DiseaseDue) []Reason {
	today, err := time.Parse(notation.DayForm, p.day)
	if err != nil {
		return nil
	}
	var names []string
	first := ""
	for _, i := range items {
		dated := i.Last != nil || i.Row.Step(1).Base == due.Age
		late := int(today.Sub(i.By).Hours() / 24)
		if !dated || i.By.IsZero() || i.Status == due.Next || late < -DoseDaysAhead || late > DoseDaysLate {
			continue
		}
		word := "by"
		if i.Status == due.Overdue {
			word = "since"
		}
		names = append(names, fmt.Sprintf("%s %s %s %s", i.Name, i.Status, word, i.By.Format(notation.DayShown)))
		if by := i.By.Format(notation.DayForm); first == "" || by < first {
			first = by
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []Reason{{Dose, first, strings.Join(names, ", ")}}
}

// state says how far the horse is: a closed visit of the day stands above what
// anybody said, unless the horse was picked again after it, or is to be looked at
// again later that day. What was said before such a recheck was set is over, too.
func (p *plan) state(c *Call) {
	var open *exam.Visit
	for i := range p.Visits {
		v := &p.Visits[i]
		switch {
		case dayOf(v.OpenedAt) > p.day, v.OnlyPapers():
		case !v.Closed():
			if open == nil || open.Elsewhere && !v.Elsewhere || open.Elsewhere == v.Elsewhere && v.OpenedAt.After(open.OpenedAt) {
				open = v
			}
		case dayOf(*v.ClosedAt) == p.day || dayOf(v.OpenedAt) == p.day:
			again := p.said.picked != nil && v.ClosedAt.Before(p.said.picked.At) || len(p.again) > 0
			if !again && v.ClosedAt.After(c.At) {
				c.State, c.At, c.Visit = Done, *v.ClosedAt, v.ID
			}
		}
	}
	switch l := p.said.state; {
	case c.State == Done:
		return
	case l != nil && !p.setAfter(*l):
		c.At, c.Note = l.At, saidBy(*l)
		c.State = map[exam.RoundAct]Status{exam.RoundLeftOut: LeftOut, exam.RoundSeen: Done, exam.RoundHanded: Handed}[l.Act]
	case open != nil:
		c.State, c.At, c.Elsewhere, c.Note = Begun, open.OpenedAt, open.Elsewhere, strings.TrimSuffix(open.OpenElsewhere(p.at), ".")
	}
	if open != nil {
		c.Visit = open.ID
	}
}

// setAfter says that a recheck that is not met was set after somebody said something.
func (p *plan) setAfter(l exam.RoundLine) bool {
	return slices.ContainsFunc(p.again, func(r due.Recheck) bool { return r.At.After(l.At) })
}

// saidBy is what somebody said of a state.
func saidBy(l exam.RoundLine) string {
	switch {
	case l.Act == exam.RoundSeen:
		return said("seen without an exam, by "+l.By, l.Words)
	case l.Act == exam.RoundLeftOut:
		return said("skipped by "+l.By, l.Words)
	case l.OnDay != "":
		return said(fmt.Sprintf("moved to %s by %s", notation.Shown(l.OnDay), l.By), l.Words)
	}
	return said(fmt.Sprintf("reassigned to %s by %s", l.To, l.By), l.Words)
}
