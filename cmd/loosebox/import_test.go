package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

const (
	colicCSV = "../../testdata/uci-horse-colic-300.csv"
	colicMap = "../../testdata/uci-horse-colic-300.map.yaml"
)

// importDay is the invented day on which the imports of these tests are made.
func importDay() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }

// runIn runs one command line on the record of a folder.
func runIn(dir, stdin string, args ...string) (code int, out, errOut string) {
	var o, eo bytes.Buffer
	e := &env{
		in: strings.NewReader(stdin), out: &o, errOut: &eo, lookup: func(string) string { return "" },
		now: importDay, dir: dir,
	}
	code = e.run(append([]string{"--data", dir}, args...))
	return code, o.String(), eo.String()
}

func withRecord(t *testing.T, dir string, work func(*storage.Record)) {
	t.Helper()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, r.Close()) }()
	work(r)
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
}

func recordBytes(t *testing.T, dir string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	return data
}

// visitsIn counts the visits of a record, and reads every one of them.
func visitsIn(t *testing.T, dir string) []exam.Visit {
	t.Helper()
	var visits []exam.Visit
	withRecord(t, dir, func(r *storage.Record) {
		var err error
		visits, err = r.Recent(0)
		require.NoError(t, err)
	})
	return visits
}

func TestImportTakesAllOfThePublishedExams(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	code, out, _ := runIn(dir, "", "import", colicCSV, "--map", colicMap)
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "300 visits (300 new horses)")
	visits := visitsIn(t, dir)
	require.Len(t, visits, 300)
	var rates []float64
	for _, v := range visits {
		assert.True(t, v.Closed())
		if f, ok := v.Finding(exam.Key{Step: "heart.rate"}); ok && f.Done() {
			x, _ := f.Value.In(notation.PerMinute)
			rates = append(rates, x)
		}
		if f, ok := v.Finding(exam.Key{Step: "gum.refill"}); ok && f.Done() {
			assert.NotEmpty(t, f.Value.Bound, "the bound is stored")
		}
	}
	assert.Len(t, rates, 276, "R's summary of the data frame colic (VIM)")
	assert.InDelta(t, 64, exam.Median(rates), 0)

	before := recordBytes(t, dir)
	code, out, _ = runIn(dir, "", "import", colicCSV, "--map", colicMap)
	assert.Equal(t, exitDone, code)
	assert.Contains(t, out, "Nothing new was imported.")
	assert.Contains(t, out, "300 visits in the record already, skipped")
	assert.Len(t, visitsIn(t, dir), 300)
	assert.Len(t, before, len(recordBytes(t, dir)), "a second time adds nothing")
}

func TestDryRunChangesNothing(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "yard")
	code, out, _ := runIn(dir, "", "import", colicCSV, "--map", colicMap, "--dry-run")
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "would be saved; --dry-run saved nothing")
	assert.NoDirExists(t, dir, "not even an empty record is made")

	withRecord(t, dir, func(r *storage.Record) {
		_, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Colic case 7", Kind: exam.AnimalHorse}, "Ann", importDay())
		require.NoError(t, err)
	})
	before := recordBytes(t, dir)
	code, out, _ = runIn(dir, "", "import", colicCSV, "--map", colicMap, "--dry-run")
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "299 new horses, 1 in the record already")
	assert.Equal(t, before, recordBytes(t, dir))
}

// The last horse of the batch cannot be written: nothing of the first 299 is.
func TestImportThatFailsHalfWayLeavesTheRecordAsItWas(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	withRecord(t, dir, func(r *storage.Record) {
		_, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Bramble", Kind: exam.AnimalPony}, "Ann", importDay())
		require.NoError(t, err)
	})
	e := &env{now: importDay, dir: dir, lookup: func(string) string { return "" }, out: &bytes.Buffer{}, errOut: &bytes.Buffer{}}
	require.NoError(t, e.tables())
	m, err := e.readMapping(colicMap)
	require.NoError(t, err)
	r, err := e.reading(colicCSV, m, importFlags{})
	require.NoError(t, err)
	before := recordBytes(t, dir)
	withRecord(t, dir, func(rec *storage.Record) {
		p, err := planImport(rec, r, m.Answered, e.steps)
		require.NoError(t, err)
		p.groups[299].horse.ID = "none" // the store takes no such identity
		done, err := e.writePlan(context.Background(), rec, p)
		require.ErrorContains(t, err, "horse 300")
		assert.Zero(t, done.visits)
		horses, err := rec.Horses()
		require.NoError(t, err)
		assert.Len(t, horses, 1)
	})
	assert.Empty(t, visitsIn(t, dir))
	assert.Equal(t, before, recordBytes(t, dir))

	broken, cancel := context.WithCancel(context.Background())
	cancel()
	withRecord(t, dir, func(rec *storage.Record) {
		p, err := planImport(rec, r, m.Answered, e.steps)
		require.NoError(t, err)
		_, err = e.writePlan(broken, rec, p)
		require.ErrorIs(t, err, context.Canceled)
	})
	assert.Empty(t, visitsIn(t, dir))
}
