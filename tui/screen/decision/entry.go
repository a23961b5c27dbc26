package decision

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
)

// entry is the decision as it stands in the lines.
func (r *rows) entry(now time.Time) (exam.Entry, error) {
	until, err := r.ends(now)
	if err != nil {
		return exam.Entry{}, err
	}
	d := &exam.Decision{
		Words: r.words.Content(), Vet: r.vet.Content(), How: exam.Means(r.how.Chosen()), Ruling: exam.Ruling(r.ruling.Chosen()),
		Until: until, ReadBack: len(r.back.Set()) > 0,
	}
	for _, p := range r.products {
		if name := p.name.Content(); name != "" {
			dose := p.dose.Content()
			if dose != "" {
				if dose, err = procedure.ReadDose(dose); err != nil {
					return exam.Entry{}, err
				}
			}
			c := exam.CoveredProcedure{Kind: exam.Injecting, Product: name, Route: exam.Route(p.route.Chosen()), Dose: dose}
			if dose != "" {
				if c, err = c.ReadOften(p.often.Content()); err != nil {
					return exam.Entry{}, err
				}
			}
			d.Covers = append(d.Covers, c)
		}
	}
	if r.draw.Set() {
		d.Covers = append(d.Covers, exam.CoveredProcedure{Kind: exam.Drawing, For: r.draw.Content()})
	}
	e := exam.Entry{Kind: exam.EntryDecision, At: now, By: r.by.Content(), Decision: d, Reason: r.reason.Content()}
	if on := r.on.Content(); on != "" {
		line := exam.RecheckLine{On: r.recheck.On, Time: r.recheck.Time, What: r.what.Content()}
		if when, err := notation.ReadMoment(on, now); err == nil && on != r.recheck.ISO() { // one that stands may have passed
			line = exam.RecheckAt(when, r.what.Content())
		}
		e.Recheck = &line
	}
	return e, nil
}
