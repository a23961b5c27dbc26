package storage_test

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

func set(t testing.TB, r *storage.Record, key exam.SettingKey, value string) {
	t.Helper()
	require.NoError(t, r.SaveSetting(exam.Setting{Key: key, Value: []byte(value), By: "Ann", At: day()}))
}

// schema9-settings.db.gz was written by the last version whose settings were all of one machine: a
// limit, minutes, a telephone, a letterhead and a theme; visits, and rehearsals in a log whose
// name does not say that it is one.
func TestWhatThePracticeSetBecomesLines(t *testing.T) {
	dir := oldFile(t, "schema9-settings.db.gz")
	r := openRecord(t, dir)
	got, err := r.Settings()
	require.NoError(t, err)
	assert.Equal(t, exam.Settings{Person: "Ann", Theme: "light", Common: exam.Common{
		SiteML: 8, WatchMinutes: 20, VetPhone: "555 0142", Practice: exam.Letterhead{Name: "Hollow Farm", Address: "1 Lane", Paper: "Letter"},
	}}, got)
	states, err := r.PracticeSettings()
	require.NoError(t, err)
	require.Len(t, states, 6)
	for _, s := range states {
		require.Len(t, s.Said, 1)
		assert.Equal(t, []any{"Ann", true}, []any{s.InUse().By, s.InUse().Own}, s.Key)
		assert.Contains(t, s.InUse().Who(), "before settings were shared")
	}
	path, err := r.OldLogo()
	require.NoError(t, err)
	assert.Equal(t, "/stick/logo.png", path)
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	assert.Equal(t, 6, report.Settings)

	// Once: what is set afterwards stays, over a new start too; and what is cleared stays so.
	set(t, r, exam.SettingSiteML, "")
	require.NoError(t, r.Close())
	r = openRecord(t, dir)
	got, err = r.Settings()
	require.NoError(t, err)
	assert.Zero(t, got.SiteML)

	// Rehearsals are read, and what follows is written into a log whose name says what it is.
	list, err := r.Rehearsals().Recent(0)
	require.NoError(t, err)
	require.Len(t, list, 2)
	saveHorse(t, r.Rehearsals(), "Simulated too")
	proven := 0
	whole := segmentsOf(t, r)
	for _, s := range whole {
		if s.Proven() {
			proven += len(s.Cores)
		}
	}
	assert.Equal(t, 1, proven)
	to, _ := newRecord(t)
	done, err := to.Adopt(context.Background(), feed(whole))
	require.NoError(t, err)
	assert.Empty(t, done.Aside)
	assert.Equal(t, []int{2, 2, 7}, []int{done.Visits, done.Rehearsals, done.Settings})
	same, err := to.Settings()
	require.NoError(t, err)
	assert.Equal(t, got.Common, same.Common, "the practice's reach another laptop")
	assert.Empty(t, same.Person+same.Theme, "a machine's own do not")
}

// What stands is derived: where it was changed behind the record's back, check says so and a
// rebuild makes it again.
func TestAForgedStandingSettingShows(t *testing.T) {
	r, _ := newRecord(t)
	set(t, r, exam.SettingSiteML, "8")
	set(t, r, exam.SettingSiteML, "9")
	var now []byte
	forge := func(row []byte) {
		require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error {
			b := tx.Bucket([]byte("standing settings"))
			now = bytes.Clone(b.Get([]byte("site_ml")))
			if row == nil {
				return b.Delete([]byte("site_ml"))
			}
			return storage.PutRow(tx, "standing settings", []byte("site_ml"), row)
		}))
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		assertBroken(t, report, "what stands of the setting site_ml does not fit its lines")
		_, _, err = r.Rebuild(context.Background())
		require.NoError(t, err)
	}
	forge([]byte{1, 1, 1}) // the first line stands again
	forge(nil)
	got, err := r.Settings()
	require.NoError(t, err)
	assert.InDelta(t, 9, got.SiteML, 0)
	assert.NotEmpty(t, now)
}

// A value that is as long as a value can be fits into one segment, as a file and as a message.
func TestTheLongestSettingTravels(t *testing.T) {
	r, _ := newRecord(t)
	long := make([]byte, exam.MaxSetting)
	for i := range long { // what does not pack
		long[i] = byte(i*7919 ^ i>>3*104729>>5)
	}
	set(t, r, "ranges.csv", string(long))
	require.Error(t, r.SaveSetting(exam.Setting{Key: "ranges.csv", Value: append(long, 0), By: "Ann", At: day()}))
	to, _ := newRecord(t)
	for _, s := range segmentsOf(t, r) {
		raw := 0
		for _, c := range s.Cores {
			raw += len(c)
		}
		assert.LessOrEqual(t, raw, signedlog.MaxRaw)
		b := s.Bytes()
		assert.Less(t, len(b), 320<<10, "the limit of a message")
		back, _, err := signedlog.ReadSegment(b)
		require.NoError(t, err)
		done, err := to.Adopt(context.Background(), feed([]signedlog.Segment{back}))
		require.NoError(t, err)
		assert.Empty(t, done.Aside)
	}
	states, err := to.PracticeSettings()
	require.NoError(t, err)
	require.Len(t, states, 1)
	assert.Equal(t, long, states[0].InUse().Value)
	assert.False(t, states[0].InUse().Own)
}
