package fhir_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/fhir"
)

const hostile = "<script>\"' \u202eevil \x1b[31m"

// treated is a visit with everything that can follow an exam.
func treated(t *testing.T) report.Page {
	t.Helper()
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("", 3600))
	order := func(product string, against ...string) *exam.Order {
		return &exam.Order{
			Product: product, Active: "active", Strength: "10 mg/mL", Maker: hostile, Lot: hostile, Item: "09506000134352", Serial: hostile, Dose: "1 dose", VolumeML: 1,
			Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Route: exam.RouteIM, Against: against, Decision: 5,
		}
	}
	inject := func(n int, l exam.InjectionLine) exam.Entry {
		l.Number = n
		return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
	}
	draw := func(l exam.DrawLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryDraw, Draw: &l}
	}
	neck := exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}
	tempF := func(v float64) *exam.Value {
		return &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Fahrenheit}}
	}
	list := []exam.Entry{
		{Kind: exam.EntryOpened, Opening: &exam.Opening{Reason: hostile, Routine: "full-exam", Horse: exam.Horse{
			ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Name: hostile, Kind: exam.AnimalDonkey, Sex: exam.Gelding, Breed: "of no breed", Chip: "001164000123456",
			Owner: hostile, OwnerPhone: "555 0100", OwnerAddress: "1 Mill Lane", Birth: exam.Birth{At: at.AddDate(-9, 0, 0), Precision: exam.BornMonth},
		}}},
		{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateTravelled}}},
		{Kind: exam.EntryFinding, Step: "temp.rectal", Value: tempF(101)},
		{Kind: exam.EntryFinding, Step: "temp.rectal", Value: tempF(104.5), Corrects: 3, Reason: "misread"},
		{Kind: exam.EntryDecision, Decision: &exam.Decision{Words: hostile, Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting}, {Kind: exam.Drawing}}}},
		{Kind: exam.EntryFinding, Step: "weight.body", Value: &exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 180, Unit: notation.Kilograms}, Weight: &exam.Weight{Method: exam.WeightScale}}},
		{Kind: exam.EntryFinding, Step: "pain.signs", Value: &exam.Value{Kind: exam.KindMarks, Words: []string{"paws", "sweats"}}},
		{Kind: exam.EntryFinding, Step: "gum.refill", Value: &exam.Value{Kind: exam.KindTime, Number: &notation.Quantity{Value: 3, Unit: notation.Seconds}, Bound: exam.AtLeast}},
		{Kind: exam.EntryNotDone, Step: "udder.sheath", Reason: string(exam.ReasonRefused)},
		{Kind: exam.EntryNote, Note: hostile},
		inject(1, exam.InjectionLine{Phase: exam.InjectionReady, Order: order("Vaccine R", "rabies")}),
		inject(1, exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck, Needle: "20 G"}),
		inject(1, exam.InjectionLine{Phase: exam.InjectionClear}),
		inject(1, exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}),
		inject(2, exam.InjectionLine{Phase: exam.InjectionReady, Order: order(hostile)}),
		inject(2, exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck}),
		inject(2, exam.InjectionLine{Phase: exam.InjectionStopped, Why: hostile, VolumeML: 0.4}),
		inject(3, exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025", Basis: "passport", Order: &exam.Order{Against: []string{"tetanus"}}}),
		{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}},
		draw(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "blood count", Decision: 5}}),
		draw(exam.DrawLine{Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}),
		draw(exam.DrawLine{Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3, Label: hostile, Short: true}}),
		draw(exam.DrawLine{Phase: exam.DrawDone, VolumeML: 3}),
		{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-09", What: "look again"}, Note: "x"},
		{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, Asked: "May I?"}},
		{Kind: exam.EntryClosed},
		{Kind: exam.EntryAdded, Reading: &exam.ReadingLine{Role: exam.ReadByVet, Words: "Agreed."}, Amend: &exam.Amendment{Why: exam.AmendRead}},
	}
	for i := range list {
		list[i].At, list[i].By = at.Add(time.Duration(i)*time.Minute), "Ann"
	}
	return pageOf(t, list)
}

func find(t *testing.T, d document, kind string, want func(map[string]any) bool) map[string]any {
	t.Helper()
	for _, e := range d.Entry {
		if e.Resource["resourceType"] == kind && want(e.Resource) {
			return e.Resource
		}
	}
	require.Failf(t, "not there", "%s", kind)
	return nil
}

func whole(r map[string]any) string {
	b, _ := json.Marshal(r)
	return string(b)
}

func has(text string) func(map[string]any) bool {
	return func(r map[string]any) bool { return strings.Contains(whole(r), text) }
}

func TestEverythingThatFollowsAnExam(t *testing.T) {
	b, err := fhir.Document(treated(t), theJudge(t))
	require.NoError(t, err)
	assert.Empty(t, faults(t, schema(t), b))
	assert.NotContains(t, string(b), "\u202e", "no character that reorders text")
	d := read(t, b)

	temp := whole(find(t, d, "Observation", has("8310-5")))
	for _, want := range []string{`"status":"final"`, `"code":"[degF]"`, `"value":104.5`, "8332-9", "before the correction: 101 F", `"code":"HH"`, `"category":[{"coding":[{"code":"vital-signs"`, "referenceRange"} {
		assert.Contains(t, temp, want)
	}
	assert.Contains(t, whole(find(t, d, "Observation", has("29463-7"))), "3141-9", "a weight from scales is a measured one")
	assert.Contains(t, whole(find(t, d, "Observation", has("44971-0"))), `"comparator":"\u003e="`)
	assert.Contains(t, whole(find(t, d, "Observation", has("udder.sheath"))), `"code":"not-performed"`)
	assert.Contains(t, whole(find(t, d, "Observation", has("pain.signs"))), `"valueBoolean":true`)

	assert.Contains(t, whole(find(t, d, "Medication", has(""))), `"code":"09506000134352","system":"https://www.gs1.org/gtin"`)
	patient := whole(find(t, d, "Patient", has("")))
	for _, want := range []string{"patient-animal", `"text":"donkey"`, `"code":"neutered"`, `"gender":"male"`, `"birthDate":"2017-03"`, "001164000123456", "555 0100"} {
		assert.Contains(t, patient, want)
	}
	assert.Contains(t, whole(find(t, d, "Immunization", has("Vaccine R"))), `"status":"completed"`)
	assert.Contains(t, whole(find(t, d, "Immunization", has("tetanus"))), `"occurrenceDateTime":"2025"`)
	assert.Contains(t, whole(find(t, d, "MedicationAdministration", has(""))), `"status":"stopped"`)
	assert.Contains(t, whole(find(t, d, "Medication", has(""))), `"expirationDate":"2027-02-28"`)
	assert.Contains(t, whole(find(t, d, "Procedure", has("blood count"))), `"status":"completed"`)
	assert.Contains(t, whole(find(t, d, "Specimen", has("EDTA"))), `"code":"mL"`)
	assert.Contains(t, whole(find(t, d, "Provenance", has("verifier"))), "urn:x-loosebox:digest")
	assert.Contains(t, whole(find(t, d, "Composition", has("34117-2"))), `"status":"final"`)
}

// A struck visit is in every resource what HL7 calls entered in error.
func TestAStruckVisitIsEnteredInError(t *testing.T) {
	p := treated(t)
	lines := append(p.Entries, exam.Entry{
		Kind: exam.EntryStruck, By: "Bo", At: p.Entries[len(p.Entries)-1].At.Add(time.Hour), Amend: &exam.Amendment{Why: "the stablemate"},
	})
	b, err := fhir.Document(pageOf(t, lines), theJudge(t))
	require.NoError(t, err)
	assert.Empty(t, faults(t, schema(t), b))
	for _, e := range read(t, b).Entry {
		switch e.Resource["resourceType"] {
		case "Encounter", "Composition", "Observation":
			assert.Equal(t, "entered-in-error", e.Resource["status"], "%s", e.Resource["resourceType"])
		}
	}
}

func TestTheSameVisitGivesTheSameBytes(t *testing.T) {
	a, err := fhir.Document(treated(t), theJudge(t))
	require.NoError(t, err)
	b, err := fhir.Document(treated(t), theJudge(t))
	require.NoError(t, err)
	assert.Equal(t, string(a), string(b))
}

// Mistakes put in on purpose (standards facts, 2.1 and 2.3): the schema or the six rules catch each of them.
func TestMistakesAreCaught(t *testing.T) {
	of := schema(t)
	good, err := fhir.Document(treated(t), theJudge(t))
	require.NoError(t, err)
	require.NoError(t, fhir.Check(good))
	first := func(d map[string]any, kind string) map[string]any {
		for _, e := range d["entry"].([]any) {
			if r := e.(map[string]any)["resource"].(map[string]any); r["resourceType"] == kind {
				return r
			}
		}
		return nil
	}
	for name, spoil := range map[string]func(d map[string]any){
		"missing code":     func(d map[string]any) { delete(first(d, "Observation"), "code") },
		"bad status":       func(d map[string]any) { first(d, "Observation")["status"] = "done" },
		"unknown property": func(d map[string]any) { first(d, "Patient")["hooves"] = 4 },
		"string for a number": func(d map[string]any) {
			first(d, "Specimen")["collection"].(map[string]any)["quantity"].(map[string]any)["value"] = "3"
		},
		"date the wrong way": func(d map[string]any) { first(d, "Observation")["effectiveDateTime"] = "02/03/2026" },
		"time without zone":  func(d map[string]any) { first(d, "Observation")["effectiveDateTime"] = "2026-03-02T09:00:00" },
		"two values":         func(d map[string]any) { o := first(d, "Observation"); o["valueString"], o["valueInteger"] = "x", 3 },
		"no value": func(d map[string]any) {
			o := first(d, "Observation")
			delete(o, "valueQuantity")
			delete(o, "valueCodeableConcept")
			delete(o, "valueString")
		},
		"number as a reference": func(d map[string]any) { first(d, "Observation")["subject"] = map[string]any{"reference": 7} },
		"dangling reference": func(d map[string]any) {
			first(d, "Observation")["subject"] = map[string]any{"reference": "urn:uuid:00000000-0000-0000-0000-000000000000"}
		},
		"wrong unit":      func(d map[string]any) { o := find8310(d); o["valueQuantity"].(map[string]any)["code"] = "kg" },
		"unit of no list": func(d map[string]any) { o := find8310(d); o["valueQuantity"].(map[string]any)["code"] = "lbs" },
		"code without its digit": func(d map[string]any) {
			find8310(d)["code"].(map[string]any)["coding"].([]any)[1].(map[string]any)["code"] = "8332-8"
		},
		"address twice": func(d map[string]any) {
			l := d["entry"].([]any)
			l[2].(map[string]any)["fullUrl"] = l[1].(map[string]any)["fullUrl"]
		},
		"upper case": func(d map[string]any) {
			l := d["entry"].([]any)
			e := l[len(l)-1].(map[string]any)
			e["fullUrl"] = strings.ToUpper(e["fullUrl"].(string))
		},
		"not the first": func(d map[string]any) { l := d["entry"].([]any); l[0], l[1] = l[1], l[0] },
		"dosage without a dose": func(d map[string]any) {
			delete(first(d, "MedicationAdministration")["dosage"].(map[string]any), "dose")
		},
		"stopped vaccine":     func(d map[string]any) { first(d, "Immunization")["status"] = "stopped" },
		"origin of one's own": func(d map[string]any) { first(d, "Immunization")["reportOrigin"] = map[string]any{"text": "passport"} },
		"no number of the dose": func(d map[string]any) {
			delete(first(d, "Immunization")["protocolApplied"].([]any)[0].(map[string]any), "doseNumberString")
		},
		"another animal": func(d map[string]any) { first(d, "Patient")["id"] = "01a2135c-3ebf-762a-99f8-c40a7684cd52" },
		"interpretation without a name": func(d map[string]any) {
			delete(find8310(d)["interpretation"].([]any)[0].(map[string]any)["coding"].([]any)[0].(map[string]any), "display")
		},
		"empty section": func(d map[string]any) {
			s := first(d, "Composition")["section"].([]any)[0].(map[string]any)
			delete(s, "text")
			delete(s, "entry")
		},
		"out of reach": func(d map[string]any) { delete(first(d, "Composition"), "section") },
	} {
		var d map[string]any
		require.NoError(t, json.Unmarshal(good, &d))
		spoil(d)
		bad, err := json.Marshal(d)
		require.NoError(t, err)
		caught := fhir.Check(bad) != nil
		if !caught {
			caught = len(faults(t, of, bad)) > 0
		}
		assert.True(t, caught, name)
	}
}

func find8310(d map[string]any) map[string]any {
	for _, e := range d["entry"].([]any) {
		r := e.(map[string]any)["resource"].(map[string]any)
		if r["resourceType"] == "Observation" && strings.Contains(whole(r), "8310-5") {
			return r
		}
	}
	return nil
}

// Codes read in standards facts 1.2, and the two that are named there as wrong.
func TestCheckDigits(t *testing.T) {
	for _, code := range []string{"85353-1", "8310-5", "8332-9", "8867-4", "9279-1", "29463-7", "3141-9", "44971-0", "80278-5", "8884-9", "29545-1", "34117-2", "72514-3"} {
		assert.True(t, fhir.CheckDigit(code), code)
	}
	for _, code := range []string{"8332-8", "", "-", "8867", "8867-", "x-1", "8867-44"} {
		assert.False(t, fhir.CheckDigit(code), code)
	}
}
