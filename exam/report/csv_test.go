package report_test

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
)

// table reads a visit's CSV back, of so many rows with the header, and gives its
// cells by row and by name of column.
func table(t *testing.T, p report.Page, rows int) func(row int, name string) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, report.WriteCSV(&b, p))
	all, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	require.NoError(t, err)
	require.Len(t, all, rows)
	return func(row int, name string) string {
		at := slices.Index(all[0], name)
		require.GreaterOrEqual(t, at, 0, "no column %s", name)
		return all[row][at]
	}
}

// RFC 4180 and OWASP's rule for cells that a spreadsheet may take for a formula.
func TestAVisitAsCSV(t *testing.T) {
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(40.25), Note: "=cmd|' /C calc'!A0, \"x\""},
		exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: string(exam.ReasonRefused)},
	)
	p.Visit.Horse.Name = "+Bracken"
	cell := table(t, p, 3)
	assert.Equal(t, []string{"'+Bracken", "40.25", "C", "tell the vet"}, []string{cell(1, "horse"), cell(1, "amount"), cell(1, "unit"), cell(1, "level")})
	assert.Equal(t, "'=cmd|' /C calc'!A0, \"x\"", cell(1, "note"))
	assert.NotEmpty(t, cell(1, "source"))
	assert.Equal(t, string(exam.ReasonRefused), cell(2, "not_done"))
	assert.Empty(t, cell(2, "value"))
}
