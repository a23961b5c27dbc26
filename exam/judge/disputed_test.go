package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Of two answers that did not know of each other the worse counts, whichever came later
// (shared/facts/sharing.md, section 3), and somebody is asked to choose. 41.5 C in an adult
// is for the veterinarian, 37.8 C is usual (the rows of ranges.TempRectal and their sources).
func TestTheWorseOfTwoAnswersCounts(t *testing.T) {
	j := judge.New(builtIn(t), numbers())
	celsius := func(v float64, by string, seq int) exam.Finding {
		return exam.Finding{
			Step: "temp.rectal", By: by, Seq: seq,
			Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}},
		}
	}
	for name, f := range map[string]exam.Finding{"the later is worse": celsius(41.5, "Eva", 5), "the earlier is worse": celsius(37.8, "Ann", 5)} {
		t.Run(name, func(t *testing.T) {
			other := celsius(37.8, "Ann", 4)
			if f.By == "Ann" {
				other = celsius(41.5, "Eva", 4)
			}
			f.Differ = []exam.Finding{other}
			v := exam.Visit{Horse: horseOf(t, ranges.AdultLight), OpenedAt: day(), Findings: []exam.Finding{f}}
			verdict := j.Visit(v, nil)
			require.Equal(t, ranges.LevelTell, verdict.Level)
			require.Len(t, verdict.Remarks, 3)
			assert.True(t, verdict.Remarks[0].Combination, "rules see the worse one too")
			assert.Equal(t, "41.5 C", verdict.Remarks[1].Value)
			choose := verdict.Remarks[2]
			assert.Equal(t, ranges.LevelRecheck, choose.Level)
			assert.Contains(t, choose.Value, ", or ")
			assert.Contains(t, choose.Why, "Look again, and choose.")
			want := "37.8 C by Ann, or 41.5 C by Eva"
			if f.By == "Ann" {
				want = "41.5 C by Eva, or 37.8 C by Ann"
			}
			assert.Equal(t, want, choose.Value, "in the order of the record")
		})
	}
}
