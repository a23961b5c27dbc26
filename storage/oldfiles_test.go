package storage_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/settle"
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

// schema9.db.gz was written by the version before outlines were thinned: a mare with 20 closed visits of the demo.
func TestOutlinesAreMadeAgain(t *testing.T) {
	dir := oldFile(t, "schema9.db.gz")
	r := openRecord(t, dir)
	report, err := r.Check(t.Context())
	require.NoError(t, err)
	assert.Empty(t, report.Broken)
	horses, err := r.Horses()
	require.NoError(t, err)
	require.Len(t, horses, 1)
	past, err := r.Past(horses[0].Horse.ID, 0)
	require.NoError(t, err)
	require.Len(t, past, 20)
	since := past[1].OpenedAt
	got, err := r.Outline(horses[0].Horse.ID, since)
	require.NoError(t, err)
	want := examtest.Outline(past, since)
	require.Len(t, got, len(want))
	for i := range want {
		assert.Equal(t, want[i].Findings, got[i].Findings)
		assert.Len(t, got[i].Injections, len(want[i].Injections))
		assert.True(t, past[i].LookedAt().Equal(got[i].LookedAt()))
	}
	// What a list shows is checked too, not only what it is about.
	before := ""
	require.NoError(t, r.EditOutline(horses[0].Horse.ID, func(list []exam.Visit) { before, list[3].Reason = list[3].Reason, "another one" }))
	report, err = r.Check(t.Context())
	require.NoError(t, err)
	require.Len(t, report.Broken, 1)
	assert.Contains(t, report.Broken[0].What, "the outline of horse")
	require.NoError(t, r.EditOutline(horses[0].Horse.ID, func(list []exam.Visit) { list[3].Reason = before }))
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, f := range files {
		assert.NotContains(t, f.Name(), ".new-", "nothing is left of the way")
	}
}

// schema11.db.gz was written by the version before it was kept which exams were open at once: a horse
// with one closed visit of each of two laptops, which overlap.
func TestExamsAtOnceAreFoundInAnOlderRecord(t *testing.T) {
	r := openRecord(t, oldFile(t, "schema11.db.gz"))
	items := settle.AtOnce(toLookAt(t, r), day())
	require.Len(t, items, 1)
	assert.Len(t, items[0].Visits, 2)
}
