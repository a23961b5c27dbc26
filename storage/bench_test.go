package storage_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/storage"
)

// The floor of Append: one put of the same bytes in a transaction of the file
// library, nothing else. Both run in turns in one benchmark, so that a busy
// disk strikes both; "floor-ratio" is what issue and handbook ask for.
func BenchmarkAppend(b *testing.B) {
	r, _ := newRecord(b)
	h := saveHorse(b, r, "Bracken")
	raw, err := bbolt.Open(filepath.Join(b.TempDir(), "raw.db"), 0o600, &bbolt.Options{FreelistType: bbolt.FreelistMapType})
	require.NoError(b, err)
	defer func() { _ = raw.Close() }()
	require.NoError(b, raw.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket([]byte("raw"))
		return err
	}))
	var ours, floor time.Duration
	var entries []exam.Entry
	n := 0
	b.ResetTimer()
	for range b.N {
		b.StopTimer()
		if len(entries) == 0 {
			v := begin(b, r, h.ID, day())
			entries = answers(v.ID, 60, day())
		}
		e := entries[0]
		entries = entries[1:]
		b.StartTimer()
		start := time.Now()
		back, err := r.Append(e)
		ours += time.Since(start)
		b.StopTimer()
		require.NoError(b, err)
		body, err := exam.LineBody(exam.LineEntry, back)
		require.NoError(b, err)
		n++
		start = time.Now()
		err = raw.Update(func(tx *bbolt.Tx) error {
			key := []byte{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, byte(n >> 16), byte(n >> 8), byte(n)}
			return tx.Bucket([]byte("raw")).Put(key, append([]byte(back.Hash)[:32], body...))
		})
		floor += time.Since(start)
		require.NoError(b, err)
		b.StartTimer()
	}
	b.ReportMetric(float64(floor.Microseconds())/float64(b.N), "floor-µs/op")
	b.ReportMetric(float64(ours)/float64(floor), "floor-ratio")
}

// stable fills a record with horses x visits, each of the given number of findings.
func stable(tb testing.TB, horses, visits, findings int) (*storage.Record, string) {
	tb.Helper()
	dir := tb.TempDir()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(tb, err)
	for h := 0; h < horses; h += 20 {
		var batch []storage.Imported
		for range min(20, horses-h) {
			one := storage.Imported{Horse: exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Cautions: []string{"kicks"}, Colour: "bay"}}
			for v := range visits {
				at := day().AddDate(0, 0, v)
				list := append([]exam.Entry{opened("", at)}, answers("", findings, at)...)
				one.Entries = append(one.Entries, append(list, closing("", at.Add(time.Hour))))
			}
			batch = append(batch, one)
		}
		require.NoError(tb, r.Import(context.Background(), batch))
	}
	tb.Cleanup(func() { _ = r.Close() })
	return r, dir
}

func BenchmarkPast20(b *testing.B) {
	r, _ := stable(b, 1, 40, 60)
	found, err := r.Horses()
	require.NoError(b, err)
	b.ResetTimer()
	for range b.N {
		past, err := r.Past(found[0].Horse.ID, 20)
		if err != nil || len(past) != 20 {
			b.Fatal(err)
		}
	}
}

func BenchmarkTenThousandVisits(b *testing.B) {
	r, dir := stable(b, 500, 20, 60)
	run := func(name string, fn func() error) {
		b.Run(name, func(b *testing.B) {
			for range b.N {
				require.NoError(b, fn())
			}
		})
	}
	run("Horses", func() error { _, err := r.Horses(); return err })
	run("Recent10", func() error { _, err := r.Recent(10); return err })
	run("Unfinished", func() error { _, err := r.Unfinished(); return err })
	require.NoError(b, r.Close())
	run("Open", func() error {
		r, err := storage.Open(dir, storage.Options{})
		if err != nil {
			return err
		}
		return r.Close()
	})
	run("OpenAndFirstSave", func() error {
		r, err := storage.Open(dir, storage.Options{})
		if err != nil {
			return err
		}
		if err := r.SaveSettings(exam.Settings{Person: "Ann"}); err != nil {
			return err
		}
		return r.Close()
	})
}
