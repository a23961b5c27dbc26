package storage_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/storage"
)

// filled is a record with one horse, a closed visit and an open one in the
// chosen book. It is not checked at the end: its tests break it.
func filled(t *testing.T, of func(*storage.Record) exam.Store) (r *storage.Record, closed, open exam.VisitID) {
	t.Helper()
	r, err := storage.Open(t.TempDir(), storage.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, r.Close()) })
	closed, open = fill2(t, of(r))
	return r, closed, open
}

func fill2(t *testing.T, s exam.Store) (closed, open exam.VisitID) {
	t.Helper()
	h := saveHorse(t, s, "Bracken")
	one := begin(t, s, h.ID, day())
	appendAll(t, s, answers(one.ID, 6, day()))
	_, err := s.Append(closing(one.ID, day().Add(time.Hour)))
	require.NoError(t, err)
	two := begin(t, s, h.ID, day().AddDate(0, 1, 0))
	appendAll(t, s, answers(two.ID, 6, day()))
	return one.ID, two.ID
}

// The two books of a record.
func realVisits(r *storage.Record) exam.Store { return r }
func rehearsed(r *storage.Record) exam.Store  { return examtest.Simulating(r.Rehearsals()) }

func entryKey(v exam.VisitID, seq byte) []byte {
	id := uuid.MustParse(string(v))
	return append(id[:], 0, 0, 0, seq)
}

// breakage is one way in which a record can be broken behind its back.
type breakage struct {
	name    string
	tamper  func(tx *bbolt.Tx, closed, open exam.VisitID) error
	says    string // of one of the things that Check reports
	rebuilt bool   // Rebuild mends it
}

func breakages(book string) []breakage {
	entries := func(tx *bbolt.Tx) *bbolt.Bucket { return tx.Bucket([]byte(book + "entries")) }
	derived := func(tx *bbolt.Tx, bucket string, v exam.VisitID, change func([]byte)) error {
		id := uuid.MustParse(string(v))
		b := tx.Bucket([]byte(book + bucket))
		row := bytes.Clone(b.Get(id[:]))
		change(row)
		return b.Put(id[:], row)
	}
	flip := func(row []byte) { row[len(row)/2] ^= 4 }
	return []breakage{
		{"an entry changed", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			row := bytes.Clone(entries(tx).Get(entryKey(closed, 3)))
			return entries(tx).Put(entryKey(closed, 3), bytes.Replace(row, []byte("Ann"), []byte("Bob"), 1))
		}, "does not match its digest", false},
		{"an entry changed with a fresh digest", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			e, err := exam.Unseal(entries(tx).Get(entryKey(closed, 3))[32:], exam.Digest(entries(tx).Get(entryKey(closed, 3))[32:]))
			if err != nil {
				return err
			}
			e.By = "Bob"
			body, err := exam.Seal(&e)
			if err != nil {
				return err
			}
			return entries(tx).Put(entryKey(closed, 3), append(digestOf(e.Hash), body...))
		}, "not the one that was written", false},
		{"an entry gone", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return entries(tx).Delete(entryKey(closed, 4))
		}, "entries 4 to 4 are missing", false},
		{"the last entry gone", func(tx *bbolt.Tx, _, open exam.VisitID) error {
			return entries(tx).Delete(entryKey(open, 7))
		}, "6 entries are there, 7 were written", false},
		{"two entries changed over", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			two, three := bytes.Clone(entries(tx).Get(entryKey(closed, 2))), bytes.Clone(entries(tx).Get(entryKey(closed, 3)))
			if err := entries(tx).Put(entryKey(closed, 2), three); err != nil {
				return err
			}
			return entries(tx).Put(entryKey(closed, 3), two)
		}, "out of place", false},
		{"a whole visit gone", func(tx *bbolt.Tx, _, open exam.VisitID) error {
			for seq := byte(1); seq <= 7; seq++ {
				if err := entries(tx).Delete(entryKey(open, seq)); err != nil {
					return err
				}
			}
			return nil
		}, "none of its entries is there", false},
		{"a horse changed", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			key, row := tx.Bucket([]byte(book + "horses")).Cursor().First()
			return tx.Bucket([]byte(book+"horses")).Put(bytes.Clone(key), bytes.Replace(row, []byte("Bracken"), []byte("Bramble"), 1))
		}, "does not match its digest", false},
		{"a snapshot changed", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return derived(tx, "snapshots", closed, flip)
		}, "does not match its sum", true},
		{"a snapshot gone", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			id := uuid.MustParse(string(closed))
			return tx.Bucket([]byte(book + "snapshots")).Delete(id[:])
		}, "snapshot of visit", true},
		{"a snapshot of something else under a right sum", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			id := uuid.MustParse(string(closed))
			data := bytes.Clone(tx.Bucket([]byte(book + "snapshots")).Get(id[:])[4:])
			return storage.PutRow(tx, book+"snapshots", id[:], bytes.ReplaceAll(data, []byte("moist"), []byte("tacky")))
		}, "not the fold of its entries", true},
		{"a head changed", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return derived(tx, "heads", closed, flip)
		}, "does not match its sum", true},
		{"the summary gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			key, _ := tx.Bucket([]byte(book + "summaries")).Cursor().First()
			return tx.Bucket([]byte(book + "summaries")).Delete(key)
		}, "are listed", true},
		{"the totals changed", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			return tx.Bucket([]byte("meta")).Put([]byte(book+"totals"), []byte("rubbish"))
		}, "does not match its sum", true},
	}
}

func digestOf(h exam.Hash) []byte {
	out := make([]byte, 32)
	for i := range out {
		const digits = "0123456789abcdef"
		out[i] = byte(strings.IndexByte(digits, h[2*i])<<4 | strings.IndexByte(digits, h[2*i+1]))
	}
	return out
}

func TestCheckFindsWhatIsBrokenAndRebuildMendsWhatIsDerived(t *testing.T) {
	for _, b := range breakages("") {
		t.Run(b.name, func(t *testing.T) { testBreakage(t, b, realVisits, "") })
	}
	for _, b := range breakages("rehearsal ") {
		t.Run("among the rehearsals, "+b.name, func(t *testing.T) { testBreakage(t, b, rehearsed, "among the rehearsals: ") })
	}
}

func testBreakage(t *testing.T, b breakage, of func(*storage.Record) exam.Store, where string) {
	r, closed, open := filled(t, of)
	s := of(r)
	before, err := s.Visit(closed)
	require.NoError(t, err)
	require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error { return b.tamper(tx, closed, open) }))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	require.False(t, report.OK)
	var said []string
	for _, broken := range report.Broken {
		said = append(said, broken.What)
		assert.Equal(t, where != "", strings.HasPrefix(broken.What, "among the rehearsals: "), broken.What)
	}
	assert.Contains(t, strings.Join(said, "\n"), b.says)

	n, m, err := r.Rebuild(context.Background())
	if !b.rebuilt {
		require.ErrorIs(t, err, exam.ErrDamaged, "a damaged line is not papered over")
		again, err := r.Check(context.Background())
		require.NoError(t, err)
		assert.Equal(t, report, again, "nothing was overwritten")
		return
	}
	require.NoError(t, err)
	assert.Equal(t, 2, n+m)
	after, err := s.Visit(closed)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	report, err = r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	found, err := s.Horses()
	require.NoError(t, err)
	assert.Equal(t, open, found[0].Open)
}

func TestCheckCountsAndCanBeBrokenOff(t *testing.T) {
	r, _, _ := filled(t, realVisits)
	fill2(t, rehearsed(r))
	fill2(t, rehearsed(r))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.Equal(t, storage.Report{Visits: 2, Entries: 45, Rehearsals: 4, Machines: 1, Lines: 16, Signatures: 1, Broken: []storage.Broken{}, OK: true}, report)
	n, m, err := r.Rebuild(context.Background())
	require.NoError(t, err)
	assert.Equal(t, []int{2, 4}, []int{n, m})
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err = r.Check(ctx)
	require.ErrorIs(t, err, context.Canceled)
	_, _, err = r.Rebuild(ctx)
	require.ErrorIs(t, err, context.Canceled)
}

// The file's own library agrees with our look at the pages, through growing,
// emptying and splitting of pages.
func TestTheFilesLibraryFindsNothingWrong(t *testing.T) {
	r, dir := stable(t, 7, 9, 25)
	_, _, err := r.Rebuild(context.Background())
	require.NoError(t, err)
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	assert.Equal(t, 63, report.Visits)
	require.NoError(t, r.Close())
	db, err := bbolt.Open(filepath.Join(dir, storage.FileName), 0o600, &bbolt.Options{ReadOnly: true, PreLoadFreelist: true})
	require.NoError(t, err)
	defer func() { require.NoError(t, db.Close()) }()
	require.NoError(t, db.View(func(tx *bbolt.Tx) error {
		for err := range tx.Check() {
			return err
		}
		return nil
	}))
}

// A file that shrinks under an open record is met by an error on every method
// and on the next, not by the end of the program.
func TestAFileCutWhileItIsOpen(t *testing.T) {
	if runtime.GOOS == "windows" {
		return
	}
	dir := t.TempDir()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	require.NoError(t, os.Truncate(filepath.Join(dir, storage.FileName), 4096))
	for range 2 {
		_, err = r.Visit(v.ID)
		require.ErrorIs(t, err, exam.ErrDamaged)
		_, err = r.Append(answers(v.ID, 1, day())[0])
		require.ErrorIs(t, err, exam.ErrDamaged)
	}
	require.NoError(t, os.Truncate(filepath.Join(dir, storage.FileName), 0))
	for range 2 {
		_, err = r.Horses()
		require.ErrorIs(t, err, exam.ErrDamaged)
	}
	require.NoError(t, r.Close(), "closing does not wait for ever")
	_, err = storage.Open(dir, storage.Options{Wait: time.Millisecond})
	require.ErrorIs(t, err, exam.ErrDamaged, "and the lock is free again")
}
