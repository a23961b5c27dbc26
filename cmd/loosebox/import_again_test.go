package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const grownMap = "horse: {kind: horse}\nvisit: {by: Sue Hart}\ncolumns:\n  name: horse name\n  date: date\n  hr: heart.rate\n  gut: {step: gut.sounds, values: {\"++\": heard, none: none}}\n  why: {note: why}\n"

const grownHead = "name,date,hr,gut,why\n"

// grown writes a sheet and its map, and gives the import of it.
func grown(t *testing.T, record string) (dir string, run func(table string, more ...string) (int, string, string)) {
	t.Helper()
	dir = t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "map.yaml"), []byte(grownMap), 0o600))
	return dir, func(table string, more ...string) (int, string, string) {
		file := filepath.Join(dir, "yard.csv")
		require.NoError(t, os.WriteFile(file, []byte(grownHead+table), 0o600))
		return runIn(record, "", append([]string{"import", file, "--map", filepath.Join(dir, "map.yaml"), "--by", "Ann Lee"}, more...)...)
	}
}

// A sheet that grew is imported again: what is there is passed over, what is new comes in, what differs is shown and left
// as it is.
func TestASheetThatGrewIsImportedAgain(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	_, run := grown(t, record)
	first := "Bramble,2020-01-01,40,++,\nBramble,2020-01-02 09:00,41,none,left hay\nTeasel,2020-01-01,44,,\n"
	code, out, errOut := run(first)
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "3 visits (2 new horses)")
	code, out, _ = run(first + "Teasel,2020-01-03,46,++,\nMerlin,2020-01-03,38,,\n")
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "2 visits (1 new horse, 1 in the record already)")
	assert.Contains(t, out, "3 visits in the record already, skipped")
	before := len(recordBytes(t, record))
	code, out, errOut = run(strings.Replace(first, "40,++", "48,++", 1))
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "1 visit not imported: the record has another one at that time")
	assert.Contains(t, errOut, "line 2 differs from the visit of Bramble at 1 Jan 2020 12:00: heart rate 48 /min, in the record 40 /min")
	assert.Len(t, recordBytes(t, record), before)
	code, out, _ = run(first+"Merlin,2020-01-03,38,,\n", "--json")
	require.Equal(t, exitDone, code)
	var got importJSON
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	assert.Equal(t, []any{"loosebox/import/1", 0, 4, 0}, []any{got.Schema, got.Visits, got.Passed, len(got.NotIn)})
	assert.Len(t, visitsIn(t, record), 5)
}

// Two visits of one day without a time of day are two visits, also the second time.
func TestTwoVisitsOfOneDayAreKnownAgain(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	_, run := grown(t, record)
	day := "Bramble,2020-01-01,40,++,\nBramble,2020-01-01,44,++,\n"
	for _, want := range []string{"2 visits (1 new horse)", "2 visits in the record already, skipped"} {
		code, out, _ := run(day)
		require.Equal(t, exitDone, code)
		assert.Contains(t, out, want)
	}
	assert.Len(t, visitsIn(t, record), 2)
}

// One bad row stops nothing: it goes with its reason to a file of the same columns, which is put right and imported with the
// same map. A cell that a spreadsheet takes for a formula survives the way there and back.
func TestABadRowIsCorrectedAndImported(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	dir, run := grown(t, record)
	table := "Bramble,2020-01-01,40,++,\nBramble,2020-01-02,400,++,=1+1\nTeasel,2020-13-01,44,loud,x\nTeasel,\"2020-01-04,44,++,\nTeasel,2020-01-05,44,++,\n"
	code, _, errOut := run(table, "--strict")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "yard.csv:3: hr: 400 /min is not possible")
	assert.NoFileExists(t, filepath.Join(dir, "yard-to-correct.csv"))
	code, out, errOut := run(table)
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "2 visits (2 new horses)")
	assert.Contains(t, out, "3 rows not imported")
	assert.Contains(t, errOut, "line 4: date:")
	rest := filepath.Join(dir, "yard-to-correct.csv")
	data, err := os.ReadFile(rest)
	require.NoError(t, err)
	text := strings.TrimPrefix(string(data), "\ufeff")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4)
	assert.Equal(t, []string{"name", "date", "hr", "gut", "why", "Why it did not come in"}, rows[0])
	assert.Equal(t, []string{"Bramble", "2020-01-02", "400", "'++", "'=1+1"}, rows[1][:5])
	assert.Contains(t, rows[1][5], "not possible")
	assert.Contains(t, rows[2][5], "gut: ")
	assert.Contains(t, rows[3][5], "quotes")
	text = strings.NewReplacer("Bramble,2020-01-02,400", "Bramble,2020-01-02,40", "2020-13-01", "2020-12-01", ",loud,", ",none,").Replace(string(data))
	require.NoError(t, os.WriteFile(rest, []byte(text), 0o600))
	code, out, errOut = runIn(record, "", "import", rest, "--map", filepath.Join(dir, "map.yaml"))
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "3 visits (0 new horses, 2 in the record already)")
	for _, v := range visitsIn(t, record) {
		for _, n := range v.Notes {
			assert.Contains(t, []string{"why: =1+1", "why: x"}, n.Text)
		}
	}
	assert.NoFileExists(t, filepath.Join(dir, "yard-to-correct-to-correct.csv"))
}

// An import is taken back as a whole, by its number and with a reason; what was imported before stays, and the sheet can come
// in again.
func TestAnImportIsTakenBack(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	_, run := grown(t, record)
	code, _, _ := run("Bramble,2020-01-01,40,++,\n")
	require.Equal(t, exitDone, code)
	second := "Bramble,2020-01-02,41,++,\nTeasel,2020-01-01,44,,\n"
	code, _, _ = run(second)
	require.Equal(t, exitDone, code)
	code, out, _ := runIn(record, "", "imports", "--json")
	require.Equal(t, exitDone, code)
	var list struct{ Imports []oneImport }
	require.NoError(t, json.Unmarshal([]byte(out), &list))
	require.Len(t, list.Imports, 2)
	number := list.Imports[0].Number
	if list.Imports[0].Visits == 1 {
		number = list.Imports[1].Number
	}
	assert.Equal(t, "Ann Lee", list.Imports[0].By)
	code, _, errOut := runIn(record, "", "imports", "--take-back", number, "--by", "Ann Lee")
	assert.Equal(t, exitUsage, code, errOut)
	code, _, _ = runIn(record, "", "imports", "--take-back", "20200101-000000", "--reason", "x", "--by", "Ann Lee")
	assert.Equal(t, exitNotFound, code)
	code, out, errOut = runIn(record, "", "imports", "--take-back", number, "--reason", "the wrong yard", "--by", "Ann Lee")
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "2 visits of the import "+number+" voided")
	assert.Len(t, visitsIn(t, record), 1)
	code, out, _ = runIn(record, "", "imports")
	require.Equal(t, exitDone, code)
	assert.NotContains(t, out, number)
	code, out, _ = run(second)
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "2 visits (0 new horses, 2 in the record already)")
}

// A name that may be a horse of the record in another spelling is asked about; the answer stands in the map.
func TestASpellingIsAskedOnce(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	dir, run := grown(t, record)
	code, _, _ := run("Bramble,2020-01-01,40,++,\n")
	require.Equal(t, exitDone, code)
	table := "Brambel,2020-01-02,41,++,\nTeasel,2020-01-01,44,,\n"
	code, out, errOut := run(table)
	require.Equal(t, exitDone, code)
	assert.Contains(t, errOut, "is Brambel the horse Bramble of the record in another spelling?")
	assert.Contains(t, errOut, "{Brambel: Bramble}")
	assert.Contains(t, out, "1 visit (1 new horse)")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "map.yaml"), []byte(grownMap+"horses: {Brambel: Bramble}\n"), 0o600))
	code, out, _ = run(table)
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "1 visit (0 new horses, 1 in the record already)")
	visits := visitsIn(t, record)
	assert.Len(t, visits, 3)
}
