package report_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
)

// RFC 4180 and OWASP's rule for cells that a spreadsheet may take for a formula.
func TestAVisitAsCSV(t *testing.T) {
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(40.25), Note: "=cmd|' /C calc'!A0, \"x\""},
		exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: exam.ReasonRefused},
	)
	p.Visit.Horse.Name = "+Bracken"
	var b strings.Builder
	require.NoError(t, report.WriteCSV(&b, p))
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	cell := func(row int, name string) string {
		for i, head := range rows[0] {
			if head == name {
				return rows[row][i]
			}
		}
		t.Fatalf("no column %s", name)
		return ""
	}
	assert.Equal(t, []string{"'+Bracken", "40.25", "C", "tell the vet"}, []string{cell(1, "horse"), cell(1, "amount"), cell(1, "unit"), cell(1, "level")})
	assert.Equal(t, "'=cmd|' /C calc'!A0, \"x\"", cell(1, "note"))
	assert.NotEmpty(t, cell(1, "source"))
	assert.Equal(t, exam.ReasonRefused, cell(2, "not_done"))
	assert.Empty(t, cell(2, "value"))
}
