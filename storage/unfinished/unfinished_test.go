package unfinished_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/unfinished"
)

func names(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := []string{}
	for _, f := range list {
		out = append(out, f.Name())
	}
	return out
}

func TestAFileUnderItsNameIsWhole(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "page.txt")
	f, err := unfinished.Create(name, "page")
	require.NoError(t, err)
	_, err = f.WriteString("half")
	require.NoError(t, err)
	assert.NoFileExists(t, name)
	require.NoError(t, f.Finish(func(temp string) error {
		data, err := os.ReadFile(temp)
		assert.Equal(t, "half", string(data))
		return err
	}))
	f.Discard()
	assert.Equal(t, []string{"page.txt"}, names(t, dir))
}

func TestNothingThatIsThereIsReplaced(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "page.txt")
	f, err := unfinished.Create(name, "page")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, []byte("mine"), 0o600)) // meanwhile
	require.ErrorIs(t, f.Finish(nil), unfinished.ErrExists)
	_, err = unfinished.Create(name, "page")
	require.ErrorIs(t, err, unfinished.ErrExists)
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(data))
	f, err = unfinished.Create(filepath.Join(dir, "other"), "page")
	require.NoError(t, err)
	require.Error(t, f.Finish(func(string) error { return errors.New("not whole") }))
	assert.Equal(t, []string{"page.txt"}, names(t, dir))
}

// What a killed program leaves goes; what another program is writing, and every
// file of somebody else, stays.
func TestOnlyWhatWasLeftIsRemoved(t *testing.T) {
	dir := t.TempDir()
	held, err := unfinished.Create(filepath.Join(dir, "a"), "page")
	require.NoError(t, err)
	defer held.Discard()
	put := func(name string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600))
	}
	foreign := []string{"a.part", "loosebox-page-x1.part", "loosebox-page-.part", "loosebox-other-1.part", "loosebox-page-1.part.txt", "xloosebox-page-1.part"}
	for _, name := range foreign {
		put(name)
	}
	put("loosebox-page-12345.part")
	require.NoError(t, os.Mkdir(filepath.Join(dir, "loosebox-page-7.part"), 0o700))
	assert.Equal(t, 1, unfinished.Sweep(dir, "page"))
	want := append([]string{"loosebox-page-7.part", filepath.Base(held.Name())}, foreign...)
	assert.ElementsMatch(t, want, names(t, dir))
}

func TestAFolderWithSomebodysFileStays(t *testing.T) {
	dir := t.TempDir()
	belongs := func(name string) bool { return name == "record.db" || name == "own/mine.yaml" }
	held, err := unfinished.MakeFolder(dir, "data.restoring-", belongs)
	require.NoError(t, err)
	for path, files := range map[string][]string{
		"data.restoring-1": {"record.db", "own/mine.yaml"}, // left
		"data.restoring-2": {"record.db", "letter.txt"},    // somebody put a letter into it
		"data.restoring-x": {"record.db"},                  // another's name
		"data.restored-1":  {"record.db"},
	} {
		for _, f := range files {
			full := filepath.Join(dir, path, f)
			require.NoError(t, os.MkdirAll(filepath.Dir(full), 0o700))
			require.NoError(t, os.WriteFile(full, nil, 0o600))
		}
	}
	assert.Equal(t, 1, unfinished.SweepFolders(dir, "data.restoring-", belongs))
	assert.ElementsMatch(t, []string{"data.restoring-2", "data.restoring-x", "data.restored-1", filepath.Base(held.Path)}, names(t, dir))
	require.NoError(t, held.Remove())
	assert.NoDirExists(t, held.Path)
}
