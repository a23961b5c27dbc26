package fhir

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
)

// immunization is a vaccine: one that was given here by who gave it, one from papers with what the papers say and no more.
func (w *writer) immunization(i exam.Injection) reference {
	o := i.Order
	id := w.id(fmt.Sprintf("injection:%d", i.Number))
	if i.Earlier() {
		w.doses++
		id = w.id(fmt.Sprintf("dose:%d", w.doses))
	}
	im := immunization{
		ResourceType: "Immunization", ID: id, VaccineCode: product(named(o), o), Patient: w.subject, PrimarySource: !i.Earlier(),
		LotNumber: lot(o.Lot), ExpirationDate: o.Expiry.Last, Site: place(i), Route: textPointer(i.Route().String()), DoseQuantity: millilitres(i.GivenML),
		Note: w.toldOf(i), Extension: append(withdrawal(o), serial(o)...),
	}
	if i.Earlier() {
		w.fromPapers(&im, i)
	} else {
		meeting := w.meeting
		im.Encounter, im.OccurrenceDateTime, im.Performer = &meeting, when(i), w.by(i)
	}
	im.Status = immunized(i)
	if im.Status == "not-done" {
		im.StatusReason = textPointer(filled(i.Why.String()))
	} else if i.State == exam.InjectionStopped { // R4 has no "stopped" for it
		yes := true
		im.IsSubpotent, im.SubpotentReason = &yes, concepts("stopped before the whole dose was in: "+i.Why.String())
	}
	if !w.visit.Stands() {
		im.Status, im.StatusReason = inError, nil
	}
	if o.Maker != "" {
		im.Manufacturer = &reference{Display: notation.CleanLine(o.Maker, 0)}
	}
	for _, a := range o.Against {
		im.ProtocolApplied = append(im.ProtocolApplied, protocol{TargetDisease: []concept{text(due.Names([]string{a}))}, DoseNumberString: "unknown"})
	}
	return w.add(id, im)
}

// fromPapers says of a dose that it was read from papers: no encounter, nobody who gave it, and how exact its day is.
func (w *writer) fromPapers(im *immunization, i exam.Injection) {
	im.Extension = append(im.Extension, extension{URL: extensionRecorder, ValueString: filled(i.By)})
	if i.SeriesDone {
		im.Extension = append(im.Extension, extension{URL: extensionSeries, ValueBoolean: true})
	}
	im.ReportOrigin = origin(i.Basis)
	im.Recorded = instant(i.At)
	if im.OccurrenceDateTime = i.On; !partialDate(i.On) {
		im.OccurrenceDateTime, im.OccurrenceString = "", "unknown"
	}
	if im.LotNumber == "" {
		im.Note = append(im.Note, annotation{Text: "the lot is not on the papers"})
	}
}

// immunized is one of the three statuses that R4 binds an Immunization to.
func immunized(i exam.Injection) string {
	if i.Counts() || i.State == exam.InjectionStopped && (i.GivenML > 0 || i.NotKnown) {
		return "completed"
	}
	return "not-done"
}

// origin is where the word of an earlier dose comes from, by HL7's codes where one fits.
func origin(basis string) *concept {
	c := textPointer(basis)
	if c == nil {
		c = &concept{Text: "not known"}
	}
	code, display := "", ""
	switch low := strings.ToLower(basis); {
	case strings.Contains(low, "owner"):
		code, display = "recall", "Parent/Guardian/Patient Recall"
	case strings.Contains(low, "practice") || strings.Contains(low, "clinic"):
		code, display = "provider", "Other Provider"
	case strings.Contains(low, "passport") || strings.Contains(low, "card") || strings.Contains(low, "certificate") || strings.Contains(low, "record"):
		code, display = "record", "Written Record"
	}
	if code != "" {
		c.Coding = []coding{{System: systemOrigin, Code: code, Display: display}}
	}
	return c
}

// lot is the lot of a label; words that say there is none are none.
func lot(text string) string {
	text = notation.CleanLine(text, 0)
	if slices.Contains([]string{"none", "no", "no lot", "not known", "unknown", "not on the papers", "-", "?"}, strings.ToLower(text)) {
		return ""
	}
	return text
}

// withdrawal keeps the day until which the animal is kept out of food: R4 has no element for it.
func withdrawal(o exam.Order) []extension {
	if !partialDate(o.NotForFoodTo) {
		return nil
	}
	return []extension{{URL: extensionNotForFood, ValueDate: o.NotForFoodTo}}
}

// product is what a label calls a product, with the item number of its package where that was scanned.
func product(words string, o exam.Order) concept {
	c := text(words)
	if item := notation.CleanLine(o.Item, 0); item != "" {
		c.Coding = []coding{{System: systemItem, Code: item}}
	}
	return c
}

// serial keeps the serial number of a package.
func serial(o exam.Order) []extension {
	if s := notation.CleanLine(o.Serial, 0); s != "" {
		return []extension{{URL: extensionSerial, ValueString: s}}
	}
	return nil
}

// partialDate says that a text is a year, a month or a day as R4 writes them.
func partialDate(text string) bool {
	if len(text) != 4 && len(text) != 7 && len(text) != 10 {
		return false
	}
	for i, r := range text {
		if i == 4 || i == 7 {
			if r != '-' {
				return false
			}
		} else if r < '0' || r > '9' {
			return false
		}
	}
	return true
}
