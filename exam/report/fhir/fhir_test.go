package fhir_test

import (
	"compress/gzip"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/judge"
	"loosebox/exam/report"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

const schemaID = "http://hl7.org/fhir/json-schema/4.0"

// compiler holds HL7's own R4 schema, compiled once for every test.
var compiler = sync.OnceValues(func() (*jsonschema.Compiler, error) {
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "fhir", "fhir.schema.json.gz"))
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // read only
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	doc, err := jsonschema.UnmarshalJSON(z)
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	return c, c.AddResource(schemaID, doc)
})

var compiling sync.Mutex

// schema is HL7's definition of a resource: each is held to its own, because a fault in a whole Bundle is said of every
// resource there is.
func schema(t *testing.T) func(resource string) *jsonschema.Schema {
	t.Helper()
	c, err := compiler()
	require.NoError(t, err)
	return func(resource string) *jsonschema.Schema {
		compiling.Lock()
		defer compiling.Unlock()
		s, err := c.Compile(schemaID + "#/definitions/" + resource)
		require.NoError(t, err, resource)
		return s
	}
}

type document struct {
	ResourceType string
	Entry        []struct {
		FullURL  string         `json:"fullUrl"`
		Resource map[string]any `json:"resource"`
	} `json:"entry"`
}

func read(t *testing.T, b []byte) document {
	t.Helper()
	var d document
	require.NoError(t, json.Unmarshal(b, &d))
	return d
}

func faults(t *testing.T, of func(string) *jsonschema.Schema, b []byte) []string {
	t.Helper()
	var out []string
	for _, e := range read(t, b).Entry {
		name, _ := e.Resource["resourceType"].(string)
		if err := of(name).Validate(any(e.Resource)); err != nil {
			out = append(out, name+": "+err.Error())
		}
	}
	bundle, err := jsonschema.UnmarshalJSON(strings.NewReader(string(b)))
	require.NoError(t, err)
	if top, ok := bundle.(map[string]any); ok {
		delete(top, "entry") // held to their own definitions above
		if err := of("Bundle").Validate(any(top)); err != nil {
			out = append(out, "Bundle: "+err.Error())
		}
	}
	return out
}

func theJudge(t *testing.T) *judge.Judge {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return judge.New(table, steps.Table())
}

func pageOf(t *testing.T, entries []exam.Entry) report.Page {
	t.Helper()
	var prev exam.Hash
	for i := range entries {
		entries[i].Visit, entries[i].Seq, entries[i].Prev = "01a2135c-3ebf-762a-99f8-c40a7684cd50", i+1, prev
		err := exam.Seal(&entries[i])
		require.NoError(t, err)
		prev = entries[i].Hash
	}
	v, err := exam.Fold(entries)
	require.NoError(t, err)
	return report.Page{Visit: v, Entries: entries, Verdict: theJudge(t).Visit(v, nil), Routine: "Full exam", Steps: steps.Table()}
}

// Every visit of the demo yard, of every kind of animal, by HL7's schema and by the six rules.
func TestTheDemoYardIsValid(t *testing.T) {
	of := schema(t)
	yard, err := demo.Yard(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	kinds := map[string]int{}
	for _, animal := range yard {
		visit := animal.Visits[len(animal.Visits)-1]
		visit[0].Opening.Horse = animal.Horse
		b, err := fhir.Document(pageOf(t, visit), theJudge(t))
		require.NoError(t, err, animal.Horse.Name)
		assert.Empty(t, faults(t, of, b), animal.Horse.Name)
		for _, e := range read(t, b).Entry {
			kinds[e.Resource["resourceType"].(string)]++
		}
	}
	for _, kind := range []string{"Composition", "Patient", "Encounter", "Practitioner", "Observation", "Provenance"} {
		assert.Positive(t, kinds[kind], kind)
	}
}
