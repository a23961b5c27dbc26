package due_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
)

func TestAnEarlierDoseIsRead(t *testing.T) {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	now := on(t, "2026-03-02")
	l, err := table.Noted(due.Papers{
		Product: " Vaccine\x1b[31m R ", Lot: "L1", Against: []string{"Tetanus", "west nile virus", "eee_wee", "tetanus"}, On: "2025-04", Basis: "passport", SeriesDone: true,
	}, now)
	require.NoError(t, err)
	assert.Equal(t, exam.InjectionLine{
		Phase: exam.InjectionNoted, On: "2025-04", Basis: "passport", SeriesDone: true,
		Order: &exam.Order{Product: "Vaccine R", Lot: "L1", Against: []string{"tetanus", "WNV", "EEE_WEE"}},
	}, l)
	for says, p := range map[string]due.Papers{
		"type the product, or what it is against": {On: "2025", Basis: "passport"},
		"is no disease":    {Against: []string{"hiccups"}, On: "2025", Basis: "passport"},
		"lies after today": {Product: "X", On: "2026-03-03", Basis: "passport"},
		"write a day":      {Product: "X", On: "in spring 2025", Basis: "passport"},
		"comes from":       {Product: "X", On: "2025"},
		"a primary series is for a disease: choose": {Product: "X", On: "2025", Basis: "passport", SeriesDone: true},
	} {
		var refusal *notation.Refusal
		_, err := table.Noted(p, now)
		require.ErrorAs(t, err, &refusal, says)
		assert.Contains(t, refusal.Why, says)
	}
	_, err = table.ReadDisease("e") // Eastern … and EHV, EVA: more than one fits
	require.Error(t, err)
}

// A visit in which only papers were copied is no visit of the horse: it meets no recheck.
func TestPapersMeetNoRecheck(t *testing.T) {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	set := exam.Visit{ID: "a", OpenedAt: on(t, "2026-03-01"), Rechecks: []exam.Recheck{{
		RecheckLine: exam.RecheckLine{On: "2026-03-05", What: "leg"}, Signed: exam.Signed{At: on(t, "2026-03-01"), By: "Ann"},
	}}}
	papers := exam.Visit{ID: "b", Routine: exam.RoutinePapers, OpenedAt: on(t, "2026-03-06")}
	l := table.For(exam.Horse{}, []exam.Visit{set, papers}, on(t, "2026-03-07"))
	require.Len(t, l.Rechecks, 1)
	assert.Equal(t, due.Overdue, l.Rechecks[0].Status)
	seen := exam.Visit{ID: "c", OpenedAt: on(t, "2026-03-06"), Findings: []exam.Finding{{Step: "temp.rectal"}}}
	assert.Empty(t, table.For(exam.Horse{}, []exam.Visit{set, papers, seen}, on(t, "2026-03-07")).Rechecks)
}
