package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/report"
)

// struck is a visit with a corrected finding, a late note, and a line through all of it.
func struck(t *testing.T) report.Page {
	t.Helper()
	return page(t,
		exam.Entry{Kind: exam.EntryNotDone, Step: "temp.rectal", Reason: string(exam.ReasonRefused)},
		exam.Entry{Kind: exam.EntryClosed},
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(38.1), Corrects: 2, Amend: &exam.Amendment{Why: "=taken after all"}},
		exam.Entry{Kind: exam.EntryAdded, Note: "owner rang", Amend: &exam.Amendment{Why: "told later"}},
		exam.Entry{Kind: exam.EntryStruck, Amend: &exam.Amendment{Why: "the other horse"}},
	)
}

// What stood there before is beside the new value in a spreadsheet too.
func TestHistoryInCSV(t *testing.T) {
	cell := table(t, struck(t), 3)
	assert.Equal(t, "38.1", cell(1, "amount"))
	assert.Contains(t, cell(1, "history"), "before: not done, horse refused, by Ann at 2026-03-02 09:01:00; corrected by Ann")
	assert.Contains(t, cell(1, "history"), "=taken after all")
	assert.Equal(t, []string{"note", "owner rang"}, []string{cell(2, "name"), cell(2, "value")})
	assert.Contains(t, cell(2, "history"), "added later")
	for row := 1; row <= 2; row++ {
		assert.Contains(t, cell(row, "visit_standing"), "VOIDED")
		assert.Contains(t, cell(row, "visit_standing"), "the other horse")
	}
}

// The owner is told that a visit does not count, and what was corrected.
func TestHistoryOnTheOwnersPage(t *testing.T) {
	text := report.SetText(report.OwnerBlocks(struck(t), theJudge(t)), 200)
	assert.Contains(t, text, "entered by mistake and does not count. It was voided on 2 March 2026: the other horse.")
	assert.Contains(t, text, "corrected on 2 March 2026; before: not done, horse refused")
}
