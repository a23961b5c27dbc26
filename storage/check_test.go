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
// chosen namespace. It is not checked at the end: its tests break it.
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

// The two namespaces of a record.
func realVisits(r *storage.Record) exam.Store { return r }
func rehearsed(r *storage.Record) exam.Store  { return examtest.Simulating(r.Rehearsals()) }

// breakage is one way in which a record can be broken behind its back.
type breakage struct {
	name    string
	tamper  func(tx *bbolt.Tx, closed, open exam.VisitID) error
	says    string // of one of the things that Check reports
	rebuilt bool   // Rebuild mends it
}

func key(v exam.VisitID) []byte {
	id := uuid.MustParse(string(v))
	return id[:]
}

// last is the last row of a bucket: of the log that was begun last.
func last(tx *bbolt.Tx, bucket string) (k, row []byte) {
	k, row = tx.Bucket([]byte(bucket)).Cursor().Last()
	return bytes.Clone(k), bytes.Clone(row)
}

func breakages(namespace string) []breakage {
	derived := func(tx *bbolt.Tx, bucket string, v exam.VisitID, change func([]byte)) error {
		b := tx.Bucket([]byte(namespace + bucket))
		row := bytes.Clone(b.Get(key(v)))
		change(row)
		return b.Put(key(v), row)
	}
	flip := func(row []byte) { row[len(row)/2] ^= 4 }
	return []breakage{
		{"a line changed", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, row := last(tx, "lines")
			return tx.Bucket([]byte("lines")).Put(k, bytes.Replace(row, []byte("Ann"), []byte("Bob"), 1))
		}, "does not match its digest", false},
		{"a line gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			c := tx.Bucket([]byte("lines")).Cursor()
			_, _ = c.Last()
			k, _ := c.Prev()
			return tx.Bucket([]byte("lines")).Delete(bytes.Clone(k))
		}, "are missing", false},
		{"the last line gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, _ := last(tx, "lines")
			return tx.Bucket([]byte("lines")).Delete(k)
		}, "ends before record", false},
		{"a pack changed", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, row := last(tx, "packs")
			flip(row)
			return tx.Bucket([]byte("packs")).Put(k, row)
		}, "does not match its sum", false},
		{"a pack gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, _ := last(tx, "packs")
			return tx.Bucket([]byte("packs")).Delete(k)
		}, "are missing", false},
		{"the name of a log gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			return tx.Bucket([]byte("logs")).Delete([]byte{0, 0, 0, 1})
		}, "has no name", false},
		{"a snapshot changed", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return derived(tx, "snapshots", closed, flip)
		}, "does not match its sum", true},
		{"a snapshot gone", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return tx.Bucket([]byte(namespace + "snapshots")).Delete(key(closed))
		}, "snapshot of visit", true},
		{"a snapshot of something else under a right sum", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return storage.Repack(tx, namespace, string(key(closed)), "moist", "tacky")
		}, "not the fold of its entries", true},
		{"a head changed", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return derived(tx, "visits", closed, flip)
		}, "does not match its sum", true},
		{"a head gone", func(tx *bbolt.Tx, closed, _ exam.VisitID) error {
			return tx.Bucket([]byte(namespace + "visits")).Delete(key(closed))
		}, "are indexed", true},
		{"where a horse's lines are gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, _ := last(tx, namespace+"horse lines")
			return tx.Bucket([]byte(namespace + "horse lines")).Delete(k)
		}, "of the kind horse", true},
		{"the summary gone", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			k, _ := last(tx, namespace+"summaries")
			return tx.Bucket([]byte(namespace + "summaries")).Delete(k)
		}, "are listed", true},
		{"the totals changed", func(tx *bbolt.Tx, _, _ exam.VisitID) error {
			return tx.Bucket([]byte("meta")).Put([]byte(namespace+"totals"), []byte("rubbish"))
		}, "does not match its sum", true},
	}
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

// A snapshot that an older version wrote says the same in other bytes: nothing is wrong with it.
func TestASnapshotOfAnOlderVersionIsAsGood(t *testing.T) {
	r, closed, _ := filled(t, realVisits)
	before, err := r.Visit(closed)
	require.NoError(t, err)
	require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error { return storage.OlderSnapshot(tx, string(key(closed))) }))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	after, err := r.Visit(closed)
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestCheckCountsAndCanBeBrokenOff(t *testing.T) {
	r, _, _ := filled(t, realVisits)
	fill2(t, rehearsed(r))
	fill2(t, rehearsed(r))
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	assert.Equal(t, []int{2, 45, 4, 0, 1}, []int{report.Visits, report.Entries, report.Rehearsals, report.Waiting, report.Machines})
	assert.Equal(t, 45+3, report.Lines, "each entry, and each horse")
	require.Len(t, report.Writers, 2, "visits and rehearsals are in logs of their own")
	for _, w := range report.Writers {
		assert.Equal(t, w.Lines, w.SignedTo, "every line is signed for")
		assert.True(t, w.Own && w.OK)
		assert.True(t, w.From.Equal(day()))
	}
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
