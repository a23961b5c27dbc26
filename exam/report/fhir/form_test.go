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
	"loosebox/exam/report/fhir"
)

func written(t *testing.T, entries []exam.Entry) document {
	t.Helper()
	p := pageOf(t, entries)
	p.Practice = exam.Letterhead{Name: "Ridge Practice", Phone: "555 0111"}
	b, err := fhir.Document(p, theJudge(t))
	require.NoError(t, err)
	assert.Empty(t, faults(t, schema(t), b))
	return read(t, b)
}

// visit is a visit of one animal with what a test adds, closed.
func visit(id string, more ...exam.Entry) []exam.Entry {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("", 3600))
	list := append([]exam.Entry{{Kind: exam.EntryOpened, Opening: &exam.Opening{Routine: "full-exam", Horse: exam.Horse{
		ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Name: "Bracken", Kind: exam.AnimalHorse, Chip: "985141000123456", UELN: "826002123456789", Cautions: []string{"kicks", "Kicks"},
		Reactions: []string{"hives after a vaccine"},
	}}}}, more...)
	for i := range list {
		if list[i].Visit = exam.VisitID(id); list[i].By == "" {
			list[i].By = "Ann"
		}
		list[i].At = at.Add(time.Duration(i) * time.Minute)
	}
	return list
}

func noted(on, basis, lot string) exam.Entry {
	return exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
		Number: 1, Phase: exam.InjectionNoted, On: on, Basis: basis, Order: &exam.Order{Product: "Vaccine Q", Against: []string{"tetanus", "rabies"}, Lot: lot},
	}}
}

// R4, bundle.html "Resource URL & uniqueness": one animal is one Patient, and one person one Practitioner, in every document.
func TestOneAnimalIsOnePatientInEveryDocument(t *testing.T) {
	temp := exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 38, Unit: notation.Celsius}}}
	a := written(t, visit("v1", temp))
	b := written(t, visit("v2", noted("2025-04", "passport", "")))
	all := func(d document, kind string) string {
		return whole(find(t, d, kind, has("")))
	}
	assert.Equal(t, all(a, "Patient"), all(b, "Patient"))
	assert.Equal(t, all(a, "Practitioner"), all(b, "Practitioner"))
	assert.Equal(t, all(a, "Organization"), all(b, "Organization"))
	patient := find(t, a, "Patient", has(""))
	assert.Equal(t, "01a2135c-3ebf-762a-99f8-c40a7684cd51", patient["id"])
	for _, want := range []string{`"value":"urn:uuid:01a2135c-3ebf-762a-99f8-c40a7684cd51"`, `"use":"official"`, `"code":"MCN"`, `urn:iso:std:iso:11784`, `"UELN"`, `"text":{"div"`} {
		assert.Contains(t, whole(patient), want)
	}
	assert.Len(t, flags(a), 2, "a caution said twice is one, a reaction another")
}

func flags(d document) (out []string) {
	for _, e := range d.Entry {
		if e.Resource["resourceType"] == "Flag" {
			out = append(out, whole(e.Resource))
		}
	}
	return out
}

// R4's Immunization: a dose from papers has no performer, no encounter, no lot that says "none", the day as exact as the
// papers, where it is known from, and targetDisease with doseNumber.
func TestADoseFromPapers(t *testing.T) {
	d := written(t, visit("v3", noted("2025-04", "passport", "none")))
	im := find(t, d, "Immunization", has(""))
	for _, gone := range []string{"performer", "encounter", "lotNumber", "reasonCode", "occurrenceString"} {
		assert.NotContains(t, im, gone)
	}
	assert.Equal(t, "2025-04", im["occurrenceDateTime"])
	assert.Equal(t, false, im["primarySource"])
	assert.Contains(t, whole(im), `"code":"record"`)
	assert.Contains(t, whole(im), "the lot is not on the papers")
	assert.Len(t, im["protocolApplied"], 2)
	assert.Contains(t, whole(im), `"doseNumberString":"unknown"`)
	assert.Contains(t, whole(find(t, d, "Provenance", has(""))), `"code":"enterer"`)
	im = find(t, written(t, visit("v4", noted("not known", "the owner says so", ""))), "Immunization", has(""))
	assert.Equal(t, "unknown", im["occurrenceString"])
	assert.Contains(t, whole(im), `"code":"recall"`)
}

// Mistakes that R4's invariants and bindings name: what is stopped, what is given, and what it was ordered by.
func TestWhatWasGivenAndWhatWasStopped(t *testing.T) {
	d := read(t, func() []byte { b, err := fhir.Document(treated(t), theJudge(t)); require.NoError(t, err); return b }())
	a := find(t, d, "MedicationAdministration", has(""))
	assert.Equal(t, "stopped", a["status"])
	dosage := a["dosage"].(map[string]any)
	assert.Equal(t, 0.4, dosage["dose"].(map[string]any)["value"])
	assert.True(t, strings.HasPrefix(dosage["text"].(string), "0.4 mL"), "the words are what was given")
	for _, kind := range []string{"Communication", "ServiceRequest"} {
		find(t, d, kind, has(""))
	}
	assert.Contains(t, whole(find(t, d, "Communication", has("May I?"))), `"medium":[{"text":"by telephone"}]`)
	assert.Contains(t, whole(find(t, d, "Procedure", has("blood count"))), `"basedOn"`)
	c := find(t, d, "Composition", has(""))
	assert.Len(t, c["attester"], 2, "who closed it, and the veterinarian who read it")
	assert.NotContains(t, whole(c), "29545-1\",\"display\":\"PHYSICAL EXAMINATION\"}],\"text\":\"Physical exam of a horse\"")
	assert.Contains(t, whole(find(t, d, "Practitioner", has("Dr Vale"))), `"veterinarian"`)
	for _, e := range d.Entry {
		text := whole(e.Resource)
		if strings.Contains(text, "80278-5") {
			assert.NotContains(t, text, "valueQuantity")
		}
	}
}

// R4, documents.html: a document is immutable; what was corrected after closing is another document that replaces it.
func TestACorrectedVisitReplacesItsDocument(t *testing.T) {
	temp := func(v float64) *exam.Value {
		return &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}}
	}
	lines := visit("01a2135c-3ebf-762a-99f8-c40a7684cd50", exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(38)},
		exam.Entry{Kind: exam.EntryClosed}, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39), Corrects: 2, Amend: &exam.Amendment{Why: "misread"}})
	bundle := func(list []exam.Entry) (string, map[string]any, document) {
		b, err := fhir.Document(pageOf(t, list), theJudge(t))
		require.NoError(t, err)
		var top map[string]any
		require.NoError(t, json.Unmarshal(b, &top))
		d := read(t, b)
		return whole(top["identifier"].(map[string]any)), find(t, d, "Composition", has("")), d
	}
	first, a, _ := bundle(lines[:3])
	second, c, d := bundle(lines)
	assert.NotEqual(t, first, second)
	assert.Equal(t, "final", a["status"])
	assert.Equal(t, "amended", c["status"])
	assert.Equal(t, a["identifier"], c["identifier"])
	var old map[string]any
	require.NoError(t, json.Unmarshal([]byte(first), &old))
	assert.Equal(t, old, c["relatesTo"].([]any)[0].(map[string]any)["targetIdentifier"])
	o := find(t, d, "Observation", has("8310-5"))
	assert.Equal(t, "corrected", o["status"])
	assert.Contains(t, whole(o), `"display":"High"`)
}

// Two answers that nobody has settled are two Observations, each with the other beside it and judged by itself; a take-over
// of the needles is a Provenance of its own and a line for a person.
func TestTwoLaptopsAreSaid(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	rate := func(by string, v float64, unseen ...int) exam.Entry {
		return exam.Entry{Kind: exam.EntryFinding, At: at, By: by, Step: "heart.rate", Unseen: unseen, Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: v, Unit: notation.PerMinute}}}
	}
	list := []exam.Entry{
		{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Routine: "full-exam", Horse: exam.Horse{ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Name: "Bracken", Kind: exam.AnimalHorse}}},
		rate("Ann", 36), rate("Ben", 72, 2),
		{Kind: exam.EntryTaken, At: at, By: "Ben", Taken: &exam.TakenLine{From: "Ann"}},
		{Kind: exam.EntryClosed, At: at, By: "Ann"},
	}
	b, err := fhir.Document(pageOf(t, list), theJudge(t))
	require.NoError(t, err)
	assert.Empty(t, faults(t, schema(t), b))
	var codes, ids []string
	for _, e := range read(t, b).Entry {
		if e.Resource["resourceType"] != "Observation" {
			continue
		}
		text := whole(e.Resource)
		assert.Contains(t, text, "36 /min by Ann, or 72 /min by Ben")
		for _, code := range []string{`"code":"N"`, `"code":"HH"`} {
			if strings.Contains(text, code) {
				codes = append(codes, code)
			}
		}
		ids = append(ids, e.Resource["id"].(string))
	}
	assert.Equal(t, []string{`"code":"N"`, `"code":"HH"`}, codes)
	require.Len(t, ids, 2)
	assert.NotEqual(t, ids[0], ids[1])
	taken := whole(find(t, read(t, b), "Provenance", has("Ben puts the needles in")))
	assert.Contains(t, taken, "asked: Ann")
	assert.Contains(t, string(b), "Needles taken over")
}
