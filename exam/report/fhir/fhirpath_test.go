package fhir_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/report"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
)

// Every document of the demo yard holds R4's own invariants, as another hand's library evaluates their FHIRPath.
// testdata/invariants.json has each invariant, where it stands in R4, and a resource that breaks it, which must be seen.
func TestTheInvariantsByFHIRPath(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not on this machine: it runs the library that evaluates FHIRPath")
	}
	library := os.Getenv("LOOSEBOX_FHIRPATH")
	if library == "" {
		t.Skip("LOOSEBOX_FHIRPATH does not name a folder in which npm has installed fhirpath: .ci/run does it")
	}
	file := filepath.Join(t.TempDir(), "documents.jsonl")
	wrote := writeYard(t, file)
	out, err := exec.CommandContext(t.Context(), node, filepath.Join("testdata", "invariants.mjs"), library, filepath.Join("testdata", "invariants.json"), file).Output()
	require.NoError(t, err, "%s", out)
	var got struct {
		Blind, Faults        []string
		Documents            int
		Resources            int
		Kinds, Met, Warnings map[string]int
	}
	require.NoError(t, json.Unmarshal(out, &got))
	assert.Empty(t, got.Blind, "these invariants do not see the resource that breaks them")
	assert.Empty(t, got.Faults)
	assert.Equal(t, wrote, got.Documents)
	for _, key := range []string{"dom-3", "ele-1", "ext-1", "obs-3", "obs-6", "bdl-7", "bdl-11", "cmp-1", "txt-1", "mad-1", "per-1", "qty-3", "sqty-1", "ref-1"} {
		assert.Positive(t, got.Met[key], "no document has what %s is of", key)
	}
	t.Logf("%d documents, %d resources: %v\nelements that each invariant met: %v\nwarnings: %v", got.Documents, got.Resources, got.Kinds, got.Met, got.Warnings)
}

// writeYard writes every visit of the demo yard, and one more, as a document on a line; it returns how many.
func writeYard(t *testing.T, file string) int {
	t.Helper()
	yard, err := demo.Yard(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	pages := []report.Page{treated(t)} // a visit with everything that follows an exam
	for _, animal := range yard {
		for _, visit := range animal.Visits {
			visit[0].Opening.Horse = animal.Horse
			p := pageOf(t, visit)
			p.Practice = exam.Letterhead{Name: "Ridge Practice", Phone: "555 0111", Address: "1 Ridge Road"}
			pages = append(pages, p)
		}
	}
	var lines bytes.Buffer
	for _, p := range pages {
		b, err := fhir.Document(p, theJudge(t))
		require.NoError(t, err, p.Title())
		require.NoError(t, json.Compact(&lines, b))
		lines.WriteByte('\n')
	}
	require.NoError(t, os.WriteFile(file, lines.Bytes(), 0o600))
	return len(pages)
}
