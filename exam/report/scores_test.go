package report_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/steps"
)

func answer(t *testing.T, id exam.StepID, text string) exam.Entry {
	t.Helper()
	step, ok := steps.Table().ByID(id)
	require.True(t, ok)
	v, err := step.ReadAnswer(text, step.Unit)
	require.NoError(t, err)
	return exam.Entry{Kind: exam.EntryFinding, Step: id, Value: &v}
}

// The page holds what the findings add up to, with the parts they were made of, as text and as JSON.
func TestPageHoldsTheScores(t *testing.T) {
	p := page(t,
		answer(t, "condition.score", "6 7 7 6 7 6"), answer(t, "pain.grimace", "1 1 0 - 0 1"),
		answer(t, "gum.refill", "3.2"), answer(t, "gum.moisture", "dry"), answer(t, "weight.body", "500kg"),
	)
	text := report.Text(p, 80)
	for _, want := range []string{
		"SCORES AND COUNTS", "6.5 between moderately fleshy and fleshy (neck 6, withers 7", "3 or more", "mean of six areas 6.5",
		"about 8 %, from gum refill 3.2 s, gum moisture dry", "about 40 L (8 % of 500", "1 of 6 items not answered; no score yet", "chewing muscles stand out: not seen",
		"Dalla Costa et al., PLoS ONE", "Skin tent never makes a band alone",
	} {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), want)
	}
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
	data, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	var doc struct {
		Scores []struct {
			Score     string
			Value     *float64
			Low, High *float64
			Evidence  string
		}
		Visit struct {
			Findings []struct {
				Step  string
				Value struct{ Parts map[string]float64 }
			}
		}
	}
	require.NoError(t, json.Unmarshal(data, &doc))
	seen := map[string]bool{}
	for _, s := range doc.Scores {
		seen[s.Score] = true
		assert.NotEmpty(t, s.Evidence)
	}
	assert.True(t, seen["fluid_loss"] && seen["condition"] && seen["grimace"], "%v", seen)
	assert.Equal(t, map[string]float64{"neck": 6, "withers": 7, "shoulder": 7, "ribs": 6, "loin": 7, "tailhead": 6}, doc.Visit.Findings[0].Value.Parts)
	empty, err := json.Marshal(report.JSON(page(t)))
	require.NoError(t, err)
	assert.Contains(t, string(empty), `"scores":[]`)
}
