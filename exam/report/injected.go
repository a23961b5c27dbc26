package report

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// injection writes every field of the record of a dose (calculations and
// procedures, 8.1 and 8.6) that is filled.
func (p Page) injection(w *writer, i exam.Injection) {
	o := i.Order
	label := fmt.Sprintf("%d  ", i.Number)
	indent := strings.Repeat(" ", len(label))
	w.wrap(label, notation.CleanNote(join(", ", o.Product, o.Active, o.Strength, o.Maker, named("lot", o.Lot), named("expiry", notation.Shown(o.Expiry.Last)), named("item", o.Item), named("serial", o.Serial))))
	row := func(text string) {
		if text != "" {
			w.wrap(indent, notation.CleanNote(text))
		}
	}
	if i.Earlier() {
		row(join(", ", "given "+notation.Shown(i.On), named("from", i.Basis), named("against", due.Names(o.Against)),
			yes(i.SeriesDone, "the record shows the whole primary series", ""), i.Why.String(), "recorded by "+i.EndBy))
		return
	}
	row(join(", ", named("ordered", o.Dose), named("volume", ml(o.VolumeML)), o.VolumeFrom, named("weight", p.weight(o.WeightKg)), o.WeightFrom,
		named("route", o.Route.String()), named("against", due.Names(o.Against))))
	row(p.by(o.Decision))
	row(i.Whose())
	row(checks(i.Checks, p.clock(i.At)+"by "+i.By))
	for _, c := range i.Checks {
		row(point(c))
	}
	for _, a := range i.Attempts {
		row(join(", ", a.At.Format("15:04:05")+" needle in: "+a.Place.String(), a.Needle, seen(a.Seen), "by "+a.By))
	}
	row(p.ending(i))
	if text := authorization.Difference(p.Visit, i); text != "" {
		w.levelled(ranges.LevelTell, indent+strings.ToUpper(ranges.LevelTell.String())+": ", text)
	}
	row(join(", ", named("supervised by", o.SupervisedBy), named("witness", o.Witness), named("disposal", i.Disposal.String()), named("next due", notation.Shown(o.NextDue)),
		withdrawal(o), named("tag", o.TagNumber), named("certificate", o.Certificate)))
	for _, text := range p.corrections(i.Corrected) {
		row(text)
	}
}

// withdrawal is until when a product keeps the horse out of food.
func withdrawal(o exam.Order) string {
	text := named("withdrawal until", notation.Shown(o.NotForFoodTo))
	if o.NotForFoodDays > 0 && text != "" {
		text += fmt.Sprintf(" (%d days)", o.NotForFoodDays)
	}
	return text
}

// ending says how an injection ended, or that it has not.
func (p Page) ending(i exam.Injection) string {
	if _, open := i.NeedleIn(); open {
		return "OPEN: the needle was inserted and is not recorded as removed"
	}
	if !i.Finished() {
		return "not finished: " + i.State.String()
	}
	return join(", ", i.State.String(), i.GivenProduct, i.GivenRoute.String(), ml(i.GivenML), i.SignWords, i.Why.String(), yes(i.NotKnown, "given amount not known", ""),
		yes(i.Afterwards, "entered afterwards", ""), p.ended(i.EndAt, i.EndBy))
}
