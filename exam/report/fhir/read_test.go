package fhir_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
)

// What is written is read back: the animal, every answer with its moment, name, site and value, and doses from papers.
func TestWhatIsWrittenIsReadBack(t *testing.T) {
	yard, err := demo.Yard(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	answers := 0
	for _, animal := range yard {
		lines := animal.Visits[len(animal.Visits)-1]
		animal.Horse.ID = "01a2135c-3ebf-762a-99f8-c40a7684cd51"
		lines[0].Opening.Horse = animal.Horse
		p := pageOf(t, lines)
		b, err := fhir.Document(p, theJudge(t))
		require.NoError(t, err)
		f, err := fhir.Read(b, steps.Table())
		require.NoError(t, err)
		require.Len(t, f.Animals, 1, animal.Horse.Name)
		h := f.Animals[0].Horse
		assert.Equal(t, []any{animal.Horse.ID, animal.Horse.Name, animal.Horse.Kind, animal.Horse.Chip, animal.Horse.Owner, animal.Horse.Cautions, animal.Horse.Reactions},
			[]any{h.ID, h.Name, h.Kind, h.Chip, h.Owner, h.Cautions, h.Reactions})
		given, noted := 0, 0
		for _, i := range p.Visit.Injections {
			switch {
			case i.Earlier():
				noted++
			case i.Counts() && len(i.Against()) > 0:
				given++
			}
		}
		assert.Len(t, f.Animals[0].Doses, given, animal.Horse.Name)
		if !p.Visit.Closed() {
			assert.Empty(t, f.Animals[0].Visits, "a visit that is not finished is not taken")
			continue
		}
		require.Len(t, f.Animals[0].Visits, 1)
		for _, e := range f.Animals[0].Visits[0].Lines {
			if e.Injection != nil {
				noted--
			}
		}
		assert.Zero(t, noted, "past doses stay in their visit: %s", animal.Horse.Name)
		if len(p.Visit.Findings) == 0 {
			continue
		}
		require.Len(t, f.Animals[0].Visits, 1)
		v := f.Animals[0].Visits[0]
		assert.True(t, v.At.Equal(p.Visit.OpenedAt))
		assert.Equal(t, p.Visit.Routine, v.Routine)
		assert.Equal(t, p.Visit.Context.States, contextIn(v.Lines).States)
		assert.Equal(t, p.Visit.Reason, v.Reason)
		got := map[exam.Key]exam.Entry{}
		for _, e := range v.Lines {
			got[exam.Key{Step: e.Step, Site: e.Site}] = e
		}
		for _, want := range p.Visit.Findings {
			e, ok := got[want.Key()]
			require.True(t, ok, "%s: %v; left %v", animal.Horse.Name, want.Key(), f.Left)
			answers++
			assert.Equal(t, want.By, e.By)
			assert.Equal(t, want.Done(), e.Value != nil)
			if want.Done() {
				assert.Equal(t, want.Value.Words, e.Value.Words, "%v", want.Key())
				assert.Equal(t, want.Value.At != nil, e.Value.At != nil, "%v", want.Key())
				if n := want.Value.Number; n != nil {
					require.NotNil(t, e.Value.Number, "%v", want.Key())
					assert.Equal(t, n.Unit, e.Value.Number.Unit)
					assert.InDelta(t, n.Value, e.Value.Number.Value, 0.0006)
				}
			}
		}
	}
	assert.Greater(t, answers, 200)
}

// A bundle of another system: what is understood comes in, everything else is listed with its reason, and a person, a dog, a
// dose of unknown day, a unit of no list and an impossible temperature do not come in.
func TestAForeignBundle(t *testing.T) {
	const foreign = `{"resourceType":"Bundle","type":"collection","entry":[
	{"fullUrl":"http://x/Patient/1","resource":{"resourceType":"Patient","id":"1","name":[{"given":["Star"],"family":"Light"}],"gender":"female","birthDate":"2015",
	 "identifier":[{"type":{"coding":[{"code":"MCN"}]},"value":"985 141 000 123 456"}],
	 "extension":[{"url":"http://hl7.org/fhir/StructureDefinition/patient-animal","extension":[{"url":"species","valueCodeableConcept":{"coding":[{"display":"Equus caballus"}]}}]}]}},
	{"fullUrl":"http://x/Patient/2","resource":{"resourceType":"Patient","id":"2","name":[{"text":"A. Person"}]}},
	{"resource":{"resourceType":"Observation","id":"a","status":"final","code":{"coding":[{"system":"http://loinc.org","code":"8867-4"}]},"subject":{"reference":"Patient/1"},
	 "effectiveDateTime":"2026-03-02T09:00:00Z","valueQuantity":{"value":40,"system":"http://unitsofmeasure.org","code":"/min"}}},
	{"resource":{"resourceType":"Observation","id":"b","status":"final","code":{"coding":[{"system":"http://loinc.org","code":"8310-5"}]},"subject":{"reference":"http://x/Patient/1"},
	 "effectiveDateTime":"2026-03-02T09:05:00Z","valueQuantity":{"value":380,"system":"http://unitsofmeasure.org","code":"Cel"}}},
	{"resource":{"resourceType":"Observation","id":"c","status":"final","code":{"text":"Serum amyloid"},"subject":{"reference":"Patient/1"},"effectiveDateTime":"2026-03-02T09:05:00Z","valueString":"x"}},
	{"resource":{"resourceType":"Observation","id":"d","status":"final","code":{"coding":[{"system":"http://loinc.org","code":"9279-1"}]},"subject":{"reference":"Patient/2"},"effectiveDateTime":"2026-03-02T09:05:00Z","valueQuantity":{"value":12,"system":"http://unitsofmeasure.org","code":"/min"}}},
	{"resource":{"resourceType":"Immunization","id":"e","status":"completed","vaccineCode":{"text":"Vaccine Q"},"patient":{"reference":"Patient/1"},"occurrenceDateTime":"2025-05-01T10:00:00Z","protocolApplied":[{"targetDisease":[{"text":"Tetanus"}]}]}},
	{"resource":{"resourceType":"Immunization","id":"f","status":"not-done","vaccineCode":{"text":"Vaccine R"},"patient":{"reference":"Patient/1"},"occurrenceDateTime":"2025-05-01"}},
	{"resource":{"resourceType":"CarePlan","id":"g"}}]}`
	f, err := fhir.Read([]byte(foreign), steps.Table())
	require.NoError(t, err)
	require.Len(t, f.Animals, 1)
	a := f.Animals[0]
	assert.Equal(t, []any{"Star Light", exam.AnimalHorse, exam.Mare, "985141000123456", exam.BornYear}, []any{a.Horse.Name, a.Horse.Kind, a.Horse.Sex, a.Horse.Chip, a.Horse.Birth.Precision})
	require.Len(t, a.Visits, 1)
	require.Len(t, a.Visits[0].Lines, 2, "an answer and the closing")
	assert.InDelta(t, 40, a.Visits[0].Lines[0].Value.Number.Value, 0)
	require.Len(t, a.Doses, 1)
	assert.Equal(t, []string{"2025-05-01", "tetanus"}, []string{a.Doses[0].On, a.Doses[0].Order.Against[0]})
	assert.Len(t, f.Left, 6, "%v", f.Left)
	for _, broken := range []string{"", "[", `{"resourceType":"Bundle","entry":[{"resource":7},{}]}`, `{"resourceType":"Patient","extension":7,"name":"x"}`} {
		_, _ = fhir.Read([]byte(broken), steps.Table()) // nothing of it panics
	}
}

func contextIn(lines []exam.Entry) exam.Context {
	for _, e := range lines {
		if e.Context != nil {
			return *e.Context
		}
	}
	return exam.Context{}
}
