package storage_test

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// everything is all that a record says through its interface.
type everything struct {
	Horses     []exam.Found
	Each       []exam.Horse
	Visits     []exam.Visit
	Entries    [][]exam.Entry
	Past       [][]exam.Visit
	Recent     []exam.Visit
	Unfinished []exam.Visit
	Settings   exam.Settings
	Rehearsed  []exam.Visit
	Lines      [][]exam.Entry
	Simulated  []exam.Found
}

// readAll reads all of it, or returns the first error. It asks for the horses
// and visits that the caller knows of: damage may not hide one.
func readAll(r *storage.Record, horses []exam.HorseID, visits []exam.VisitID) (all everything, err error) {
	var errs []error
	keep := func(err error) { errs = append(errs, err) }
	all.Horses, err = r.Horses()
	keep(err)
	for _, id := range horses {
		h, err := r.Horse(id)
		keep(err)
		past, err2 := r.Past(id, 2)
		keep(err2)
		all.Each, all.Past = append(all.Each, h), append(all.Past, past)
	}
	for _, id := range visits {
		v, err := r.Visit(id)
		keep(err)
		entries, err2 := r.Entries(id)
		keep(err2)
		all.Visits, all.Entries = append(all.Visits, v), append(all.Entries, entries)
	}
	all.Recent, err = r.Recent(3)
	keep(err)
	all.Unfinished, err = r.Unfinished()
	keep(err)
	all.Settings, err = r.Settings()
	keep(err)
	all.Rehearsed, err = r.Rehearsals().Recent(0)
	keep(err)
	all.Simulated, err = r.Rehearsals().Horses()
	keep(err)
	for _, v := range all.Rehearsed {
		lines, err := r.Rehearsals().Entries(v.ID)
		keep(err)
		all.Lines = append(all.Lines, lines)
	}
	for _, list := range append(all.Past, all.Visits, all.Recent, all.Unfinished, all.Rehearsed) {
		for i := range list { // a copy without its key was written by another machine
			list[i].Elsewhere, list[i].Laptops = false, nil
		}
	}
	for _, err := range errs {
		if err != nil && !errors.Is(err, exam.ErrDamaged) {
			return all, err // the worst first: an error of another class
		}
	}
	return all, errors.Join(errs...)
}

// specimen is a small record with all kinds of rows, closed.
type specimen struct {
	bytes  []byte
	horses []exam.HorseID
	visits []exam.VisitID
	open   exam.VisitID
	all    everything
}

func newSpecimen(t *testing.T) specimen {
	t.Helper()
	r, dir := newRecord(t)
	var s specimen
	require.NoError(t, r.SaveSettings(exam.Settings{Person: "Ann", Routine: "tpr"}))
	for i, name := range []string{"Bracken", "Moth"} {
		h := saveHorse(t, r, name)
		h.Revision, h.Owner = 2, "Mill Farm"
		h, err := r.SaveHorse(h, "Ann", day())
		require.NoError(t, err)
		s.horses = append(s.horses, h.ID)
		for k := range 2 {
			at := day().AddDate(0, i, k)
			v := begin(t, r, h.ID, at)
			s.visits = append(s.visits, v.ID)
			appendAll(t, r, answers(v.ID, 8, at))
			if i == 1 && k == 1 {
				s.open = v.ID
				continue
			}
			_, err := r.Append(closing(v.ID, at.Add(time.Hour)))
			require.NoError(t, err)
		}
	}
	fill2(t, rehearsed(r))
	var err error
	s.all, err = readAll(r, s.horses, s.visits)
	require.NoError(t, err)
	require.Len(t, s.all.Lines, 2)
	require.NoError(t, r.Close())
	s.bytes, err = os.ReadFile(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	return s
}

// meet opens damaged bytes and asserts the promise: what was written, or
// exam.ErrDamaged; never a panic, never anything else. It says whether the
// damage was seen.
func (s specimen) meet(t *testing.T, dir string, content []byte, what string) bool {
	t.Helper()
	path := filepath.Join(dir, storage.FileName)
	require.NoError(t, os.WriteFile(path, content, 0o600))
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		require.ErrorIs(t, err, exam.ErrDamaged, what)
		left, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, content, left, "%s: a file that is not opened is not touched", what)
		return true
	}
	defer func() { require.NoError(t, r.Close(), what) }()
	all, err := readAll(r, s.horses, s.visits)
	seen := err != nil
	if seen {
		require.ErrorIs(t, err, exam.ErrDamaged, what)
	} else {
		require.Equal(t, s.all, all, "%s: a value changed in silence", what)
	}
	s.write(t, r, seen, what)
	return seen
}

// write appends to the open visit: that may fail, but what was there stays.
func (s specimen) write(t *testing.T, r *storage.Record, seen bool, what string) {
	t.Helper()
	report, err := r.Check(context.Background())
	require.NoError(t, err, what)
	assert.False(t, seen && report.OK, "%s: damage that Check does not see", what)
	_, err = r.Append(exam.Entry{Visit: s.open, At: day(), By: "Ann", Kind: exam.EntryNote, Note: "after"})
	if err != nil {
		require.ErrorIs(t, err, exam.ErrDamaged, what)
		return
	}
	for i, id := range s.visits {
		got, err := r.Entries(id)
		if err != nil {
			require.True(t, seen, "%s: writing spread the damage: %v", what, err)
			continue
		}
		require.Equal(t, s.all.Entries[i], got[:len(s.all.Entries[i])], what)
	}
}

// rounds is the number of rounds of a random test: the usual one where LOOSEBOX_LONG is set, as .ci/run does, a third of it
// at a desk, and another by an environment variable.
func rounds(t *testing.T, variable string, usual int) int {
	t.Helper()
	text := os.Getenv(variable)
	if text == "" && os.Getenv("LOOSEBOX_LONG") == "" {
		return usual / 3
	}
	if text == "" {
		return usual
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err, variable)
	return n
}

// Where a bit flipped in a key that leads to packs, the search finds an earlier pack than the one that is looked for. That is
// damage; reading once went on searching for ever.
func TestReadingEndsWherePacksAreOutOfOrder(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	var visits []exam.VisitID
	for i := range 12 { // several pages of packs
		v := begin(t, r, h.ID, day().AddDate(0, 0, i))
		appendAll(t, r, append(answers(v.ID, 20, day()), closing(v.ID, day())))
		visits = append(visits, v.ID)
	}
	want, err := readAll(r, []exam.HorseID{h.ID}, visits)
	require.NoError(t, err)
	require.NoError(t, r.Close())
	path := filepath.Join(dir, storage.FileName)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	seen := 0
	for _, at := range storage.PackKeys(t, path) {
		for bit := range 12 * 8 {
			data := slices.Clone(whole)
			data[at+bit/8] ^= 1 << (bit % 8)
			require.NoError(t, os.WriteFile(path, data, 0o600))
			r, err := storage.Open(dir, storage.Options{})
			if err != nil {
				require.ErrorIs(t, err, exam.ErrDamaged)
				seen++
				continue
			}
			ended := make(chan bool)
			var got everything
			go func() {
				got, err = readAll(r, []exam.HorseID{h.ID}, visits)
				close(ended)
			}()
			select {
			case <-ended:
			case <-time.After(time.Minute):
				require.Fail(t, "reading does not end", "bit %d of a key", bit)
			}
			if err == nil {
				require.Equal(t, want, got)
			} else {
				require.ErrorIs(t, err, exam.ErrDamaged)
				seen++
			}
			require.NoError(t, r.Close())
		}
	}
	assert.Positive(t, seen)
}

func TestACutFileIsRefusedWithoutAPanic(t *testing.T) {
	s := newSpecimen(t)
	dir := t.TempDir()
	seen := 0
	for n := 0; n < len(s.bytes); n += 1021 {
		if s.meet(t, dir, s.bytes[:n], "cut at "+strconv.Itoa(n)) {
			seen++
		}
	}
	assert.Greater(t, seen, 25, "most cuts take something away")
}

func TestAFlippedBitIsNeverTakenForAFinding(t *testing.T) {
	s := newSpecimen(t)
	dir := t.TempDir()
	rnd := rand.New(rand.NewPCG(2026, 3))
	seen := 0
	n := rounds(t, "LOOSEBOX_FLIPS", 600)
	for range n {
		bytes := append([]byte(nil), s.bytes...)
		at, bit := rnd.IntN(len(bytes)), rnd.IntN(8)
		bytes[at] ^= 1 << bit
		if s.meet(t, dir, bytes, "bit "+strconv.Itoa(bit)+" of byte "+strconv.Itoa(at)) {
			seen++
		}
	}
	t.Logf("%d of %d flips struck something in use (%d bytes in the file)", seen, n, len(s.bytes))
	assert.Greater(t, seen, n/20)
}

// A damaged file that is also an older copy is refused as it is: that lines are missing is
// written only into a record that can be opened.
func TestADamagedOlderCopyIsNotTouched(t *testing.T) {
	s := newSpecimen(t)
	dir := t.TempDir()
	s.meet(t, dir, s.bytes, "sound")                                                           // which writes more lines, and counts them beside the record
	damaged := bytes.ReplaceAll(s.bytes, []byte(`"routine":"tpr"`), []byte(`"routine":"tqr"`)) // of the settings, on free pages too
	require.NotEqual(t, s.bytes, damaged)
	require.True(t, s.meet(t, dir, damaged, "the settings of an older copy"))
}

// Rubbish of a whole sector is what a failing disk leaves.
func TestALostSectorIsNeverTakenForAFinding(t *testing.T) {
	s := newSpecimen(t)
	dir := t.TempDir()
	rnd := rand.New(rand.NewPCG(2026, 4))
	for at := 0; at < len(s.bytes); at += 3 * 512 {
		for _, fill := range []string{"zeros", "noise", "another sector"} {
			bytes := append([]byte(nil), s.bytes...)
			sector := bytes[at:min(at+512, len(bytes))]
			from := rnd.IntN(len(bytes)/512) * 512
			for i := range sector {
				switch fill {
				case "zeros":
					sector[i] = 0
				case "noise":
					sector[i] = byte(rnd.Uint32())
				default:
					sector[i] = s.bytes[from+i]
				}
			}
			s.meet(t, dir, bytes, fill+" at "+strconv.Itoa(at))
		}
	}
}
