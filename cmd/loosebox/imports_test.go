package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// endsAfter is a context that ends when it was asked so many times.
type endsAfter struct {
	context.Context
	asked, most int
}

func (c *endsAfter) Err() error {
	if c.asked++; c.asked > c.most {
		return context.Canceled
	}
	return nil
}

// A take-back that is broken off leaves whole parts of a thousand visits voided. The same command goes on with the rest:
// every visit is voided once, for one reason.
func TestATakeBackGoesOnWhereItStopped(t *testing.T) {
	t.Parallel()
	record := t.TempDir()
	_, run := grown(t, record)
	var table strings.Builder
	for i := range 2300 {
		_, _ = fmt.Fprintf(&table, "Horse %d,2020-%02d-%02d,%d,++,\n", i%46, 1+i/46%12, 1+i/46/12, 40+i%9)
	}
	code, _, errOut := run(table.String())
	require.Equal(t, exitDone, code, errOut)
	e := &env{now: importDay, dir: record, lookup: func(string) string { return "" }, out: &bytes.Buffer{}, errOut: &bytes.Buffer{}}
	var number string
	withRecord(t, record, func(r *storage.Record) {
		list, err := importsOf(r)
		require.NoError(t, err)
		require.Len(t, list, 1)
		require.Equal(t, 2300, list[0].Visits)
		number = list[0].Number
		err = e.takeBack(&endsAfter{Context: t.Context(), most: 1500}, r, list, number, "the wrong yard", "Ann Lee", false)
		require.ErrorContains(t, err, "1000 of 2300 visits are voided; the same command goes on with the rest")
		require.ErrorIs(t, err, context.Canceled)
	})
	assert.Len(t, visitsIn(t, record), 1300, "the part that was broken off is not voided")
	back := []string{"imports", "--take-back", number, "--reason", "the wrong yard", "--by", "Ann Lee"}
	code, out, errOut := runIn(record, "", back...)
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "1300 visits of the import "+number+" voided: the wrong yard")
	assert.Empty(t, visitsIn(t, record))
	before := len(recordBytes(t, record))
	code, out, errOut = runIn(record, "", back...)
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "voided already: 2300 visits")
	assert.Len(t, recordBytes(t, record), before)
	withRecord(t, record, func(r *storage.Record) {
		horses, err := r.Horses()
		require.NoError(t, err)
		n := 0
		for _, h := range horses {
			struck, err := r.Struck(h.Horse.ID)
			require.NoError(t, err)
			for _, v := range struck {
				n++
				require.Equal(t, []string{"the wrong yard", "Ann Lee"}, []string{string(v.Struck.Why), v.Struck.By})
				lines, err := r.Entries(v.ID)
				require.NoError(t, err)
				require.Equal(t, exam.EntryStruck, lines[len(lines)-1].Kind)
				require.NotEqual(t, exam.EntryStruck, lines[len(lines)-2].Kind, "once")
			}
		}
		assert.Equal(t, 2300, n)
	})
}
