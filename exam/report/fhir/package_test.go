package fhir_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
)

// What was scanned from a package stands in the document and is read back: item number, serial, lot, expiry and maker. The
// item number is GS1's example 09506000134352; its system is that of HL7's terminology (NamingSystem gtin 3.0.0).
func TestThePackageOfAVaccine(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	o := exam.Order{
		Product: "Vaccine R", Maker: "Maker M", Lot: "A1B2", Item: "09506000134352", Serial: "XYZ9", Against: []string{"tetanus"},
		Expiry: notation.Expiry{Typed: "2027-02-28", Last: "2027-02-28"},
	}
	list := []exam.Entry{
		{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Routine: "papers", Horse: exam.Horse{ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Name: "Bracken", Kind: exam.AnimalHorse}}},
		{Kind: exam.EntryInjection, At: at, By: "Ann", Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNoted, On: "2025-12-07", Basis: "passport", Order: &o}},
		{Kind: exam.EntryClosed, At: at, By: "Ann"},
	}
	b, err := fhir.Document(pageOf(t, list), theJudge(t))
	require.NoError(t, err)
	assert.Empty(t, faults(t, schema(t), b))
	text := whole(find(t, read(t, b), "Immunization", has("Vaccine R")))
	for _, want := range []string{`"system":"https://www.gs1.org/gtin"`, `"code":"09506000134352"`, `"lotNumber":"A1B2"`, `"expirationDate":"2027-02-28"`, `"valueString":"XYZ9"`, "Maker M"} {
		assert.Contains(t, text, want)
	}
	f, err := fhir.Read(b, steps.Table())
	require.NoError(t, err)
	require.Len(t, f.Animals, 1)
	assert.Equal(t, o, *f.Animals[0].Visits[0].Lines[0].Injection.Order)

	f, err = fhir.Read([]byte(strings.ReplaceAll(string(b), "09506000134352", "09506000134353")), steps.Table())
	require.NoError(t, err)
	assert.Empty(t, f.Animals[0].Visits[0].Lines[0].Injection.Order.Item, "an item number whose check digit is wrong is none")
}
