package fhir

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/due"
	"loosebox/exam/notation"
)

func rounded(v float64) float64 { return math.Round(v*1000) / 1000 }

func millilitres(v float64) *quantity {
	if v <= 0 {
		return nil
	}
	return &quantity{Value: rounded(v), Unit: "mL", System: systemUCUM, Code: "mL"}
}

// injections writes vaccines as Immunization, everything else as
// MedicationAdministration.
func (w *writer) injections() {
	var lines []string
	var refs []reference
	for _, i := range w.visit.Injections {
		if i.State == exam.InjectionNoted || len(i.Against()) > 0 {
			refs = append(refs, w.immunization(i))
		} else {
			refs = append(refs, w.administration(i))
		}
		line := fmt.Sprintf("%s: %s", productOf(i), i.State)
		if i.Order.NotForFoodTo != "" {
			line += "; not for food until after " + i.Order.NotForFoodTo
		}
		for _, more := range []string{i.Whose(), authorization.Difference(w.visit, i)} {
			if more != "" {
				line += "; " + more
			}
		}
		lines = append(lines, line)
	}
	for _, x := range w.visit.Watches {
		lines = append(lines, strings.TrimSuffix(fmt.Sprintf("watch after injection %d: %s, %s", x.Injection, x.State, x.SignWords), ", "))
	}
	w.written = append(w.written, refs...)
	w.section("Injections", lines, refs)
}

// by is who ended an injection, or who began it.
func (w *writer) by(i exam.Injection) []performer {
	who := i.GivenBy()
	if who == "" {
		who = i.By
	}
	return []performer{{w.person(who)}}
}

func when(i exam.Injection) string {
	if i.EndAt != nil {
		return instant(*i.EndAt)
	}
	return instant(i.At)
}

func place(i exam.Injection) *concept {
	if n := len(i.Attempts); n > 0 {
		return textPointer(i.Attempts[n-1].Place.String())
	}
	return nil
}

// The words that begin what an order says; read back by them.
const (
	orderedWords = "ordered: "
	nextDueWords = "next due "
)

// toldOf are the parts of an injection that R4 has no element for, in words.
func (w *writer) toldOf(i exam.Injection) []annotation {
	var out []annotation
	add := func(label, words string) {
		if words = notation.CleanNote(words); words != "" {
			out = append(out, annotation{Text: label + words})
		}
	}
	for _, a := range i.Attempts {
		add("needle: ", strings.TrimSuffix(fmt.Sprintf("%s, %s, %s", a.Place, a.Needle, a.Seen), ", "))
	}
	add(orderedWords, i.Order.Dose)
	add("", i.Whose())
	add("tell the vet, it differs from the order: ", authorization.Difference(w.visit, i))
	add("sign: ", i.SignWords)
	add("stopped: ", i.Why.String())
	add("supervised by ", i.Order.SupervisedBy)
	add(nextDueWords, i.Order.NextDue)
	add("not for food until after ", i.Order.NotForFoodTo)
	if i.NotKnown {
		add("", "how much went in is not known")
	}
	return out
}

func named(o exam.Order) string {
	if o.Product != "" {
		return o.Product
	}
	return due.Names(o.Against)
}

// productOf is what was given, with the strength of its label where that is known.
func productOf(i exam.Injection) string {
	if i.GivenProduct != "" {
		return i.GivenProduct
	}
	return strings.TrimSpace(named(i.Order) + " " + i.Order.Strength)
}

func (w *writer) administration(i exam.Injection) reference {
	o := i.Order
	id := w.id(fmt.Sprintf("product:%d", i.Number))
	if i.GivenProduct != "" { // the label that was read is another product's
		o.Lot, o.Expiry, o.Active, o.Maker, o.Item, o.Serial = "", notation.Expiry{}, "", "", "", ""
	}
	m := medication{ResourceType: "Medication", ID: id, Extension: serial(o), Code: product(productOf(i), o)}
	if o.Lot != "" || o.Expiry.Last != "" {
		m.Batch = &batch{notation.CleanLine(o.Lot, 0), o.Expiry.Last}
	}
	if o.Active != "" {
		m.Ingredient = []ingredient{{text(o.Active)}}
	}
	if o.Maker != "" {
		m.Manufacturer = &reference{Display: notation.CleanLine(o.Maker, 0)}
	}
	given := w.add(id, m)
	id = w.id(fmt.Sprintf("injection:%d", i.Number))
	a := administration{
		ResourceType: "MedicationAdministration", ID: id, Status: administered(i), MedicationReference: given, Subject: w.subject, Context: w.meeting,
		EffectiveDateTime: when(i), Performer: w.by(i), Note: w.toldOf(i),
		Extension: withdrawal(i.Order), Request: w.requestOf(i.Order.Decision, exam.Injecting, i.Order.Product),
	}
	if a.Dosage = dosed(i); a.Dosage == nil { // mad-1: no dosage without a dose
		for _, more := range []string{labelled("route: ", i.Route().String()), labelled("site: ", placeText(i))} {
			if more != "" {
				a.Note = append(a.Note, annotation{Text: more})
			}
		}
	}
	if a.Status == "not-done" {
		a.StatusReason = concepts(i.Why.String())
	}
	if !w.visit.Stands() {
		a.Status = inError
	}
	return w.add(id, a)
}

// dosed is what was given, in words equal to the dose; nil where no amount is known.
func dosed(i exam.Injection) *dosage {
	dose := millilitres(i.GivenML)
	if dose == nil {
		return nil
	}
	words := notation.FormatNumber(dose.Value, 3) + " mL"
	for _, more := range []string{i.Route().String(), placeText(i)} {
		if more != "" {
			words += ", " + more
		}
	}
	return &dosage{Text: notation.CleanNote(words), Site: place(i), Route: textPointer(i.Route().String()), Dose: dose}
}

func placeText(i exam.Injection) string {
	if n := len(i.Attempts); n > 0 {
		return i.Attempts[n-1].Place.String()
	}
	return ""
}

func labelled(label, words string) string {
	if words = notation.CleanNote(words); words == "" {
		return ""
	}
	return label + words
}

func administered(i exam.Injection) string {
	switch {
	case i.State == exam.InjectionGiven:
		return "completed"
	case i.State == exam.InjectionStopped && i.GivenML == 0 && !i.NotKnown:
		return "not-done"
	case i.State == exam.InjectionStopped:
		return "stopped"
	}
	return "in-progress"
}
