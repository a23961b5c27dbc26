package report_test

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/steps"
)

// Every number in a table of a page has its unit: beside it, or in the name of its row.
func TestEveryNumberOfATableHasItsUnit(t *testing.T) {
	number, unit := regexp.MustCompile(`\d`), regexp.MustCompile(`( |, )(C|F|/min|kg|lb|s|mm|cm|in|of \d+)\b`)
	p := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39.6)}, exam.Entry{
		Kind: exam.EntryFinding, Step: "heart.rate",
		Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 44, Unit: notation.PerMinute}},
	})
	p.Judge = theJudge(t)
	p.Verdict = p.Judge.Visit(p.Visit, nil)
	visits := checksOf(t, 44, 48, 52)
	at := visits[0].OpenedAt.Add(30 * time.Minute)
	c := report.EpisodeInput{Horse: visits[0].Horse, Now: at, Episode: episode.Make(notation.Units{notation.Celsius: notation.Fahrenheit}, visits, nil, theJudge(t), steps.Table(), at)}
	rows := 0
	for _, b := range append(report.Blocks(p), c.Blocks()...) {
		if b.Table == nil {
			continue
		}
		for _, row := range b.Table.Rows {
			for _, cell := range row.Cells[1:] {
				if number.MatchString(cell) {
					rows++
					assert.Regexp(t, unit, row.Cells[0]+" , "+cell)
				}
			}
		}
	}
	require.Greater(t, rows, 8)
}
