package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// A clock that fell back a year is told by the commands that examine or list visits.
func TestACommandTellsThatTheClockIsBehind(t *testing.T) {
	dir := t.TempDir()
	withRecord(t, dir, func(r *storage.Record) {
		h, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Bramble", Kind: exam.AnimalPony}, "Ann", importDay())
		require.NoError(t, err)
		_, err = r.Begin(exam.Entry{Kind: exam.EntryOpened, At: importDay(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
		require.NoError(t, err)
		_, err = r.SaveHorse(exam.Horse{Revision: 1, Name: "Moth", Kind: exam.AnimalPony}, "Ann", importDay())
		require.NoError(t, err)
	})
	for _, args := range [][]string{nil, {"exam", "Moth", "--by", "Ann"}} {
		for years, told := range map[int]bool{0: false, -1: true} {
			var out, errOut bytes.Buffer
			e := &env{in: strings.NewReader(""), out: &out, errOut: &errOut, lookup: func(string) string { return "" }}
			e.now = func() time.Time { return importDay().AddDate(years, 0, 0) }
			code := e.run(append([]string{"--data", dir}, args...))
			require.Zero(t, code, errOut.String())
			assert.Equal(t, told, strings.Contains(errOut.String(), "but a visit is dated"), "%v: %s", args, errOut.String())
		}
	}
}
