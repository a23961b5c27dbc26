package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// schema1-corrected.db.gz was written by a version that kept only the numbers of
// corrected entries and asked for no reason: two ponies, three closed visits with
// corrections before and after their closing and a note added later, and an open
// visit with a needle in.
func TestOldCorrectionsAreReadWithWhatTheyReplaced(t *testing.T) {
	r := openRecord(t, oldFile(t, "schema1-corrected.db.gz"))
	recent, err := r.Recent(0)
	require.NoError(t, err)
	require.Len(t, recent, 4)
	v := recent[3]
	require.Equal(t, "Bracken", v.Horse.Name)
	f, ok := v.Finding(exam.Key{Step: "step.number0", Site: exam.Left})
	require.True(t, ok)
	assert.Equal(t, "100.4 F", f.Value.Number.String())
	require.Len(t, f.Before, 2)
	assert.Equal(t, "101.2 F", f.Before[0].Value.Number.String())
	assert.Equal(t, "Ann", f.Before[0].By)
	assert.Equal(t, "100.8 F", f.Before[1].Value.Number.String())
	assert.Equal(t, "Bo", f.Before[1].By)
	assert.Empty(t, f.Why, "nobody was asked then")
	require.Len(t, v.Notes, 1)
	assert.True(t, v.Notes[0].Added)
	assert.Equal(t, "owner rang", v.Notes[0].Text)
	open := recent[0].OpenInjections()
	require.Len(t, open, 1)
	assert.Equal(t, "A1", open[0].Order.Lot)

	again := exam.Entry{
		Visit: v.ID, At: day().AddDate(0, 2, 0), By: "Cy", Kind: exam.EntryFinding, Step: f.Step, Site: f.Site, Corrects: f.Seq,
		Value: &f.Before[0].Value, Amend: &exam.Amendment{Why: "it was right at first"},
	}
	_, err = r.Append(again)
	require.NoError(t, err)
	struck, entered, err := r.Strike(exam.Entry{
		Visit: v.ID, At: day().AddDate(0, 2, 1), By: "Cy", Kind: exam.EntryStruck, Amend: &exam.Amendment{Why: "it was Moth"},
	}, recent[0].Horse.ID)
	require.NoError(t, err)
	assert.Equal(t, entered.ID, struck.Struck.Again)
	assert.Equal(t, struck.Findings, entered.Findings)
}
