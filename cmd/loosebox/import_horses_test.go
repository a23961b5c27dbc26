package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

const yardMap = "horse: {kind: pony}\nvisit: {by: Sue Hart}\ncolumns:\n  name: horse name\n  date: date\n  chip: chip\n  owner: owner\n  hr: heart.rate\n"

func writeFiles(t *testing.T, table string) (csv, mapping string) {
	t.Helper()
	dir := t.TempDir()
	csv, mapping = filepath.Join(dir, "yard.csv"), filepath.Join(dir, "yard.map.yaml")
	require.NoError(t, os.WriteFile(csv, []byte("name,date,chip,owner,hr\n"+table), 0o600))
	require.NoError(t, os.WriteFile(mapping, []byte(yardMap), 0o600))
	return csv, mapping
}

func TestImportFindsTheHorsesOfTheRecord(t *testing.T) {
	t.Parallel()
	chip := "001210001234567"
	for name, c := range map[string]struct {
		held []exam.Horse
		row  string
		want string // of the output, or of the error
		code int
	}{
		"new":           {nil, "Bramble,2020-01-01,,,40", "1 new horse", exitDone},
		"by name":       {[]exam.Horse{{Name: "bramble", Kind: exam.AnimalPony}}, "Bramble,2020-01-01,,,40", "0 new horses, 1 in the record", exitDone},
		"by chip":       {[]exam.Horse{{Name: "Briar", Kind: exam.AnimalPony, Chip: chip}}, "Bramble,2020-01-01," + chip + ",,40", "1 in the record", exitDone},
		"other chip":    {[]exam.Horse{{Name: "Bramble", Kind: exam.AnimalPony, Chip: "001210001234568"}}, "Bramble,2020-01-01," + chip + ",,40", "1 new horse", exitDone},
		"two of a name": {[]exam.Horse{{Name: "Bramble", Kind: exam.AnimalPony}, {Name: "Bramble", Kind: exam.AnimalPony}}, "Bramble,2020-01-01,,,40", "2 horses of the record", exitFailed},
		"other kind":    {[]exam.Horse{{Name: "Bramble", Kind: exam.AnimalDonkey}}, "Bramble,2020-01-01,,,40", "a donkey in the record", exitFailed},
		"other owner":   {[]exam.Horse{{Name: "Bramble", Kind: exam.AnimalPony, Owner: "A. Ruiz"}}, "Bramble,2020-01-01,,B. Moor,40", "another owner", exitFailed},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			withRecord(t, dir, func(r *storage.Record) {
				for _, h := range c.held {
					h.Revision = 1
					_, err := r.SaveHorse(h, "Ann", importDay())
					require.NoError(t, err)
				}
			})
			csv, mapping := writeFiles(t, c.row+"\n")
			code, out, errOut := runIn(dir, "", "import", csv, "--map", mapping)
			assert.Equal(t, c.code, code)
			assert.Contains(t, out+errOut, c.want)
		})
	}
}

func TestImportPassesOverVisitsThatAreThereAlready(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	csv, mapping := writeFiles(t, "Bramble,2020-01-01,,,40\n")
	code, _, _ := runIn(dir, "", "import", csv, "--map", mapping)
	require.Equal(t, exitDone, code)
	csv, mapping = writeFiles(t, "Teasel,2020-01-01,,,44\nBramble,2020-01-01,,,40\n")
	code, out, _ := runIn(dir, "", "import", csv, "--map", mapping)
	assert.Equal(t, exitDone, code)
	assert.Contains(t, out, "1 visit (1 new horse)")
	assert.Contains(t, out, "1 visit in the record already, skipped")
	assert.Len(t, visitsIn(t, dir), 2)
}

func TestImportUse(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	csv, mapping := writeFiles(t, "Bramble,2020-01-01,,,400\n")
	code, _, errOut := runIn(dir, "", "import", csv)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "--map")
	code, _, _ = runIn(dir, "", "import", "nowhere.csv", "--map", mapping)
	assert.Equal(t, exitNotFound, code)
	code, _, errOut = runIn(dir, "", "import", csv, "--map", mapping)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "line 2: hr: 400 /min is not possible")
	assert.NoFileExists(t, filepath.Join(dir, storage.FileName), "a bad file does not even make a record")
}
