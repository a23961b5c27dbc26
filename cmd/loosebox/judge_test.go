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
	assert.Equal(t, string(exam.ReasonNotRecorded), whys[0])
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
	assert.Contains(t, out, "2 exams: tell the vet 1 · recheck 0 · note 0 · usual 0 · nothing to judge 1", "what is not known is not usual")
	assert.Nil(t, judgedTable(t, "id,heart.rate\nb,\n")["b"]["level"])
	unknown := judgedTable(t, "id,kind,age,breath.rate,skin.tent,heart.rate\na,donkey,3d,30,,\nb,mule,9y,,4,\nc,donkey,3d,70,,\nd,mule,9y,,4,40\n")
	for id, level := range map[string]any{"a": nil, "b": nil, "c": "tell the vet", "d": "usual"} {
		assert.Equal(t, level, unknown[id]["level"], "%s: usual is said only where it is known what is usual", id)
	}
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), pageWidth)
	}
	code, _, _ = runIn(t.TempDir(), "", "judge", "nowhere.csv")
	assert.Equal(t, exitNotFound, code)
}

// judgedTable judges a table through the command.
func judgedTable(t *testing.T, table string) map[string]map[string]any {
	t.Helper()
	code, out, errOut := runIn(t.TempDir(), table, "judge", "-", "--json")
	require.Equal(t, exitDone, code, errOut)
	var got struct{ Visits []map[string]any }
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	byID := map[string]map[string]any{}
	for _, v := range got.Visits {
		byID[v["id"].(string)] = v
	}
	return byID
}

// Each column of context changes what it has to and nothing else; NAGEL11A for mares in foal, FEI20MIN and YOUNES15 for
// horses that just worked, NCSU for the fever behind a medicine.
func TestJudgeColumnsOfContext(t *testing.T) {
	t.Run("in_foal", func(t *testing.T) {
		v := judgedTable(t, "id,sex,age,in_foal,heart.rate\na,mare,9y,no,54\nb,mare,9y,10mo,54\n")
		assert.Equal(t, "recheck", v["a"]["level"], "49 and more is looked at again")
		assert.Equal(t, "usual", v["b"]["level"], "a mare in her last months: usual to 55")
		assert.Equal(t, "mare, last 3 months in foal", v["b"]["class"])
	})
	t.Run("worked", func(t *testing.T) {
		v := judgedTable(t, "id,worked,heart.rate,temp.rectal\na,no,66,\nb,yes,66,\nc,yes,84,\nd,yes,66,39.6\n")
		assert.Equal(t, "tell the vet", v["a"]["level"])
		assert.Equal(t, "recheck", v["b"]["level"], "after work, and no other sign")
		assert.Equal(t, "tell the vet", v["c"]["level"], "beyond the emergency line")
		assert.Equal(t, "tell the vet", v["d"]["level"], "a temperature is never lowered")
	})
	for _, column := range []string{"excited", "travelled", "heat"} {
		t.Run(column, func(t *testing.T) {
			v := judgedTable(t, "id,"+column+",heart.rate,temp.rectal\na,no,66,37.8\nb,yes,66,37.8\nc,yes,36,39.6\n")
			assert.Equal(t, "tell the vet", v["a"]["level"])
			assert.Equal(t, "tell the vet", v["b"]["level"], "nothing but work lowers a level")
			assert.Equal(t, "tell the vet", v["c"]["level"])
			why := v["b"]["remarks"].([]any)[0].(map[string]any)["why"]
			assert.NotEqual(t, v["a"]["remarks"].([]any)[0].(map[string]any)["why"], why, "it says to repeat it at rest")
			assert.Contains(t, why, "rest")
		})
	}
	t.Run("medicine", func(t *testing.T) {
		v := judgedTable(t, "id,medicine,temp.rectal\na,none,39.0\nb,pain,39.0\nc,not known,39.0\n")
		assert.Equal(t, "recheck", v["a"]["level"])
		assert.Equal(t, "tell the vet", v["b"]["level"], "38.9 C behind a medicine for pain or fever")
		first := v["b"]["remarks"].([]any)[0].(map[string]any)
		assert.NotEmpty(t, first["medicine"], "what it hides is said")
	})
	code, _, errOut := runIn(t.TempDir(), "id,worked,heart.rate\na,perhaps,66\n", "judge", "-")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "worked")
}

func TestJudgeNamesDangerSigns(t *testing.T) {
	v := judgedTable(t, "id,heart.rate,pain.signs,gum.colour\na,66,rolls,pink\nb,36,,pink\n")
	signs := v["a"]["danger_signs"].(map[string]any)
	assert.Equal(t, []any{"heart 60 or more", "severe or constant pain"}, signs["seen"])
	assert.Equal(t, []any{"no gut sound in a quadrant"}, signs["not_looked_at"])
	assert.InDelta(t, 4, signs["of"], 0)
	assert.NotEmpty(t, signs["source"])
	assert.NotContains(t, v["b"], "danger_signs")
}
