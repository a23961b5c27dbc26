package report

import (
	"fmt"
	"strconv"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func number(n int) string { return strconv.Itoa(n) }

// givenNow is what was done to the animal in this visit; doses that were given before are in the details, and counted here.
func (p Page) givenNow(w *writer) {
	v := p.Visit
	earlier := 0
	w.heading("given and taken in this visit")
	for _, i := range v.Injections {
		if i.Earlier() {
			earlier++
			continue
		}
		o, level := i.Order, ranges.LevelUsual
		what := join(", ", productShown(i), ml(i.GivenML), i.Route().String(), lastPlace(i), yes(i.GivenProduct == "", named("lot", o.Lot), ""))
		end := p.ending(i)
		if _, in := i.NeedleIn(); in || authorization.Difference(v, i) != "" {
			level = ranges.LevelTell
		}
		w.levelled(level, fmt.Sprintf("%d  ", i.Number), notation.CleanNote(join("; ", what, end, authorization.Difference(v, i), p.orderedBy(o.Decision),
			withdrawal(o), named("next due", notation.Shown(o.NextDue)))))
	}
	for _, d := range v.Draws {
		state := d.State.String()
		if !d.Finished() {
			state = "not finished: " + state
		}
		w.wrap("Blood draw  ", notation.CleanNote(join("; ", "for "+d.Order.For, state, ml(d.DrawnML()), d.SignWords, d.Why.String(), p.ended(d.EndAt, d.EndBy), p.orderedBy(d.Order.Decision))))
	}
	for _, x := range v.Watches {
		w.wrap("Observed  ", notation.CleanNote(p.watch(x)))
	}
	if len(w.block().Lines) == 0 {
		w.line("nothing")
	}
	if earlier > 0 {
		w.wrap("  ", fmt.Sprintf("Past doses given before this visit: %d, in the details.", earlier))
	}
}

func productShown(i exam.Injection) string {
	if text := i.Product(); text != "" {
		return text
	}
	return due.Names(i.Order.Against)
}

func lastPlace(i exam.Injection) string {
	if n := len(i.Attempts); n > 0 {
		return i.Attempts[n-1].Place.String()
	}
	return ""
}

// orderedBy names the veterinarian whose decision an order rests on.
func (p Page) orderedBy(seq int) string {
	for _, d := range p.Visit.Decisions {
		if seq > 0 && d.Seq == seq {
			return "decided by " + d.Vet
		}
	}
	return ""
}

// next is what was handed off, decided and set.
func (p Page) next(w *writer) {
	v := p.Visit
	w.heading("handed off, decided, to do")
	for _, h := range v.HandOffs {
		w.wrap("Handed off  ", notation.CleanNote(join(", ", p.clock(h.At)+"to "+h.To, h.How.String(), quoted(h.Asked))))
	}
	for _, d := range v.Decisions {
		if !d.Corrected {
			w.wrap("Decided  ", notation.CleanNote(p.clock(d.At)+p.decision(d)))
		}
	}
	for _, r := range v.Rechecks {
		w.wrap("To do  ", notation.CleanNote(r.When(r.At)+" "+r.What))
	}
	if len(w.block().Lines) == 0 {
		w.line("nothing")
	}
}

// signatures is who examined, who read the visit, and room for the veterinarian's words and hand.
func (p Page) signatures(w *writer) {
	v := p.Visit
	w.heading("for the veterinarian")
	b := w.block()
	for _, l := range Readings(v) {
		w.line(l)
	}
	w.line("Diagnosis and treatment are left empty here. Recorded, measured and compared; the veterinarian decides.")
	b.Room = 3
	if _, _, ok := v.SignedOff(); ok {
		b.Room = 1
	}
	b.Sign = []string{"Examined by " + notation.CleanLine(v.By, 40) + ", date and time", "Veterinarian, date and time"}
}
