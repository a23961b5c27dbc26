package round

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
)

// Kind is where a reason for seeing a horse comes from.
type Kind string

// The kinds.
const (
	Open      Kind = "open visit"
	Recheck   Kind = "recheck"
	Dose      Kind = "dose due"
	Picked    Kind = "picked"
	Carried   Kind = "carried over"
	Left      Kind = "left from before"
	Unplanned Kind = "not planned"
)

// Reason is why a horse is on the round.
type Reason struct {
	Kind  Kind   `json:"kind"`
	Day   string `json:"day"` // by which or since which
	Words string `json:"words"`
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
	hour     time.Time // of the first recheck of the day that has one; zero for none
}

// call is the horse's line of the round; false where nothing puts it there.
func (p *plan) call() (Call, bool) {
	c := Call{Horse: p.Horse, State: Waiting}
	c.Reasons = append(p.byRecord(), p.said.reasons()...)
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
	c.Hour = p.hour
	c.Group, c.Why = p.place()
	return c, true
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
	for _, r := range l.Rechecks {
		if r.Status == due.Overdue || r.Status == due.Due {
			if r.Time != nil && (p.hour.IsZero() || r.Time.Before(p.hour)) {
				p.hour = *r.Time
			}
			out = append(out, Reason{Recheck, r.On, fmt.Sprintf("recheck %s %s: %s", r.Status, r.When(), r.What)})
		}
	}
	return append(out, p.doses(l.Items)...)
}

// begun is the day of a visit, with its time where another has the same day.
func (p *plan) begun(v exam.Visit) string {
	for i := range p.Visits {
		if p.Visits[i].ID != v.ID && dayOf(p.Visits[i].OpenedAt) == dayOf(v.OpenedAt) {
			return v.OpenedAt.Format(exam.DayForm + " 15:04")
		}
	}
	return dayOf(v.OpenedAt)
}

// doses are one reason for all that is due. A schedule that is only begun because
// no dose is in the record puts no horse on the round: papers may show one.
func (p *plan) doses(items []due.Item) []Reason {
	today, err := time.Parse(exam.DayForm, p.day)
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
		names = append(names, fmt.Sprintf("%s %s %s %s", i.Name, i.Status, word, i.By.Format(exam.DayForm)))
		if by := i.By.Format(exam.DayForm); first == "" || by < first {
			first = by
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []Reason{{Dose, first, strings.Join(names, ", ")}}
}

// state says how far the horse is: a closed visit of the day stands above what
// anybody said, unless the horse was picked again after it.
func (p *plan) state(c *Call) {
	var open *exam.Visit
	for i := range p.Visits {
		v := &p.Visits[i]
		switch {
		case dayOf(v.OpenedAt) > p.day, v.OnlyPapers():
		case !v.Closed():
			if open == nil || v.OpenedAt.After(open.OpenedAt) {
				open = v
			}
		case dayOf(*v.ClosedAt) == p.day || dayOf(v.OpenedAt) == p.day:
			again := p.said.picked != nil && v.ClosedAt.Before(p.said.picked.At)
			if !again && v.ClosedAt.After(c.At) {
				c.State, c.At, c.Visit = Done, *v.ClosedAt, v.ID
			}
		}
	}
	switch l := p.said.state; {
	case c.State == Done:
		return
	case l != nil:
		c.At, c.Note = l.At, saidBy(*l)
		c.State = map[exam.RoundAct]State{exam.RoundLeftOut: LeftOut, exam.RoundSeen: Done, exam.RoundHanded: Handed}[l.Act]
	case open != nil:
		c.State, c.At = Begun, open.OpenedAt
	}
	if open != nil {
		c.Visit = open.ID
	}
}

// saidBy is what somebody said of a state.
func saidBy(l exam.RoundLine) string {
	switch {
	case l.Act == exam.RoundSeen:
		return said("seen without an exam, by "+l.By, l.Words)
	case l.Act == exam.RoundLeftOut:
		return said("left out by "+l.By, l.Words)
	case l.OnDay != "":
		return said(fmt.Sprintf("carried over to %s by %s", l.OnDay, l.By), l.Words)
	}
	return said(fmt.Sprintf("handed over to %s by %s", l.To, l.By), l.Words)
}
