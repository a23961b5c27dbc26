package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// The keys are those of the contract of commands and JSON.
func TestJudgeJSON(t *testing.T) {
	code, out, _ := runIn(t.TempDir(), "id,kind,age,heart.rate,gum.refill,gut.sounds:left upper\na,donkey,adult,70,2,\nb,,9y,,under 3 s,none\n", "judge", "-", "--json")
	require.Equal(t, exitDone, code)
	var got struct {
		Schema string
		Visits []map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	assert.True(t, strings.HasPrefix(out, "{\n  \"schema\": \"loosebox/judge/1\""))
	require.Len(t, got.Visits, 2)
	a := got.Visits[0]
	assert.Equal(t, []any{"a", "donkey, adult", "tell the vet"}, []any{a["id"], a["class"], a["level"]})
	remark := a["remarks"].([]any)[0].(map[string]any)
	for _, key := range []string{"step", "site", "value", "unit", "level", "low", "high", "evidence", "source", "why"} {
		assert.Contains(t, remark, key)
	}
	assert.Equal(t, "heart.rate", remark["step"])
	assert.InDelta(t, 31, remark["low"], 0, "The Donkey Sanctuary, current set")
	var whys []string
	for _, n := range append(a["not_judged"].([]any), got.Visits[1]["not_judged"].([]any)...) {
		whys = append(whys, n.(map[string]any)["why"].(string))
	}
	require.Len(t, whys, 3)
	assert.Equal(t, exam.ReasonNotRecorded, whys[0])
	assert.Contains(t, whys[1], "only under 3 s is known")
}

func TestJudgeText(t *testing.T) {
	table := "id,farm,heart.rate\na,x,66\nb,x,\n"
	code, _, errOut := runIn(t.TempDir(), table, "judge", "-")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "stdin:1: farm: this column is not known")
	code, out, _ := runIn(t.TempDir(), table, "judge", "-", "--ignore", "farm")
	require.Equal(t, exitDone, code)
	assert.Contains(t, out, "a · adult light horse · tell the vet")
	assert.Contains(t, out, "b · adult light horse · nothing to judge")
	assert.Contains(t, out, "2 exams: tell the vet 1")
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), pageWidth)
	}
	code, _, _ = runIn(t.TempDir(), "", "judge", "nowhere.csv")
	assert.Equal(t, exitNotFound, code)
}
