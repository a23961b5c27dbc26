package storage_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

func mode(t *testing.T, name string) fs.FileMode {
	t.Helper()
	info, err := os.Stat(name)
	require.NoError(t, err)
	return info.Mode().Perm()
}

func TestFolderAndFileAreTheirOwnersAlone(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // rights are lists there; the data folder is the user's
	}
	dir := filepath.Join(t.TempDir(), "a", "b")
	r := openRecord(t, dir)
	require.NoError(t, r.Close())
	file := filepath.Join(dir, storage.FileName)
	assert.Equal(t, fs.FileMode(0o700), mode(t, dir))
	assert.Equal(t, fs.FileMode(0o600), mode(t, file))
	require.NoError(t, os.Chmod(dir, 0o755))
	require.NoError(t, os.Chmod(file, 0o666))
	require.NoError(t, openRecord(t, dir).Close())
	assert.Equal(t, fs.FileMode(0o755), mode(t, dir), "a folder that was there keeps its rights")
	assert.Equal(t, fs.FileMode(0o600), mode(t, file))
}

func TestWhatIsNoRecordIsLeftAlone(t *testing.T) {
	for name, bytes := range map[string][]byte{"empty": {}, "short": []byte("x"), "text": []byte(longText())} {
		dir := t.TempDir()
		file := filepath.Join(dir, storage.FileName)
		require.NoError(t, os.WriteFile(file, bytes, 0o600))
		for _, o := range []storage.Options{{}, {ReadOnly: true}} {
			_, err := storage.Open(dir, o)
			require.ErrorIs(t, err, exam.ErrDamaged, name)
			assert.Contains(t, err.Error(), "nothing in it was changed", name)
			left, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, bytes, left, name)
		}
	}
}

func longText() string {
	text := make([]byte, 40000)
	for i := range text {
		text[i] = 'a' + byte(i%26)
	}
	return string(text)
}

func TestAFolderInPlaceOfTheFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, storage.FileName), 0o700))
	_, err := storage.Open(dir, storage.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "is not a file")
	assert.Contains(t, err.Error(), "nothing was changed")
}

func TestAFolderThatEverybodySharesIsNotTaken(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // there is no such bit there
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o777|fs.ModeSticky))
	_, err := storage.Open(dir, storage.Options{})
	require.ErrorContains(t, err, "everybody shares")
	info, err := os.Stat(dir)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o777), info.Mode().Perm(), "its rights are left alone")
	names, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, names)
}

func TestAFileInPlaceOfTheFolder(t *testing.T) {
	name := filepath.Join(t.TempDir(), "data")
	require.NoError(t, os.WriteFile(name, []byte("mine"), 0o600))
	_, err := storage.Open(name, storage.Options{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "nothing was changed")
	left, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(left))
}

func TestReadingMakesNoRecord(t *testing.T) {
	for _, o := range []storage.Options{{ReadOnly: true}, {MustExist: true}} {
		dir := filepath.Join(t.TempDir(), "none")
		_, err := storage.Open(dir, o)
		require.ErrorIs(t, err, fs.ErrNotExist)
		require.ErrorIs(t, err, exam.ErrNotFound)
		require.ErrorContains(t, err, "no record here")
		_, err = os.Stat(dir)
		require.ErrorIs(t, err, fs.ErrNotExist)
	}
}

// A folder that is somebody's for another purpose gets no record, and keeps its rights.
func TestAFolderOfOtherThingsIsRefused(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "letter.txt"), nil, 0o600))
	_, err := storage.Open(dir, storage.Options{})
	require.ErrorIs(t, err, storage.ErrForeign)
	require.ErrorContains(t, err, "letter.txt")
	require.ErrorContains(t, err, "nothing was changed")
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, list, 1)
	assert.Equal(t, fs.FileMode(0o755), mode(t, dir))
}

// A practice may put its own files there first.
func TestAFolderWithOwnFilesIsTaken(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ranges.csv"), nil, 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "routines"), 0o700))
	require.NoError(t, openRecord(t, dir).Close())
}

// What a killed first start leaves is removed by the next one; a foreign file stays.
func TestHalfMadeFilesAreRemoved(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	require.NoError(t, openRecord(t, dir).Close())
	before, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, name := range []string{"record.db.new-123", "machine.key.new-9", "machine.count.new-77", "record.db.new-copy", "record.db.old"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("half"), 0o600))
	}
	require.NoError(t, openRecord(t, dir).Close())
	after, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, after, len(before)+2)
	assert.FileExists(t, filepath.Join(dir, "record.db.new-copy"))
	assert.FileExists(t, filepath.Join(dir, "record.db.old"))
}

func TestReadersShareTheRecordAndWriteNothing(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	require.NoError(t, r.Close())
	one, err := storage.Open(dir, storage.Options{ReadOnly: true})
	require.NoError(t, err)
	defer func() { require.NoError(t, one.Close()) }()
	two, err := storage.Open(dir, storage.Options{ReadOnly: true})
	require.NoError(t, err)
	defer func() { require.NoError(t, two.Close()) }()
	got, err := two.Horse(h.ID)
	require.NoError(t, err)
	assert.Equal(t, h, got)
	_, err = one.Begin(opened(h.ID, day()))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "for reading only")
}

// When the folder goes away while the record is open, nothing is taken for stored
// that the next start would not find; what was stored can still be read.
func TestTheFolderGoneMeanwhile(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // an open file cannot be removed there
	}
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	away := filepath.Join(t.TempDir(), "away")
	require.NoError(t, os.Rename(dir, away))
	gone := func() {
		_, err := r.Append(answers(v.ID, 1, day())[0])
		require.ErrorIs(t, err, storage.ErrGone)
		require.ErrorContains(t, err, "nothing more is saved")
		require.ErrorContains(t, err, "put it back")
	}
	gone()
	require.NoError(t, os.Mkdir(dir, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, storage.FileName), []byte("another"), 0o600))
	gone()
	back, err := r.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, v, back)
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.Rename(away, dir))
	appendAll(t, r, answers(v.ID, 1, day()))
}

func TestAClosedRecordSaysSo(t *testing.T) {
	r, _ := newRecord(t)
	require.NoError(t, r.Close())
	require.NoError(t, r.Close(), "closing twice is no mistake")
	_, err := r.Horses()
	require.ErrorIs(t, err, storage.ErrNotOpen)
	require.ErrorIs(t, r.SaveSettings(exam.Settings{}), storage.ErrNotOpen)
}
