package judge_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/ranges"
)

// The keys of the judge command's JSON, as its contract lists them.
func TestDocumentHasTheKeysOfTheContract(t *testing.T) {
	j := whole(t)
	visits := []exam.Visit{
		adult(t, tempF(103), said("gum.colour", "brick"), said("pain.signs", "paws"), heart(52)),
		visitOf(horseOf(t, ranges.DonkeyAdult), seconds("skin.tent", 2)),
		adult(t),
	}
	var verdicts []judge.Verdict
	for _, v := range visits {
		verdicts = append(verdicts, j.Visit(v, nil))
	}
	body, err := json.Marshal(judge.NewDocument(visits, verdicts))
	require.NoError(t, err)
	var back struct {
		Schema string
		Visits []map[string]any
	}
	require.NoError(t, json.Unmarshal(body, &back))
	assert.Equal(t, "loosebox/judge/1", back.Schema)
	require.Len(t, back.Visits, 3)
	for _, v := range back.Visits {
		for _, key := range []string{"id", "class", "level", "remarks", "not_judged"} {
			assert.Contains(t, v, key)
		}
		assert.NotNil(t, v["remarks"])
		assert.NotNil(t, v["not_judged"])
	}
	first := back.Visits[0]
	assert.Equal(t, "tell the vet", first["level"])
	assert.Equal(t, "adult light horse", first["class"])
	remarks, _ := first["remarks"].([]any)
	at := slices.IndexFunc(remarks, func(r any) bool { m, _ := r.(map[string]any); return m["step"] == "temp.rectal" })
	require.GreaterOrEqual(t, at, 0)
	temp, _ := remarks[at].(map[string]any)
	for _, key := range []string{"step", "site", "value", "unit", "level", "low", "high", "evidence", "source", "why"} {
		assert.Contains(t, temp, key)
	}
	assert.InDelta(t, 103.0, temp["value"], 0)
	assert.Equal(t, "F", temp["unit"])
	assert.InDelta(t, 101.0, temp["high"], 0)
	assert.Equal(t, "published", temp["evidence"])
	miniature, _ := back.Visits[1]["not_judged"].([]any)
	require.Len(t, miniature, 1)
}
