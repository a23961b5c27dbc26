package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// judged counts the examinations by level and outcome.
func judged(t testing.TB, visits []exam.Visit) (map[exam.Level]map[string]int, []string) {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	j := judge.New(table, steps.Table())
	counts := map[exam.Level]map[string]int{}
	var short []string
	for _, v := range visits {
		verdict := j.Visit(v, nil)
		if counts[verdict.Level] == nil {
			counts[verdict.Level] = map[string]int{}
		}
		o := outcomeOf(v)
		counts[verdict.Level][o]++
		if (o == "died" || o == "euthanized") && verdict.Level < ranges.LevelTell {
			short = append(short, shortfall(v, verdict))
		}
	}
	return counts, short
}

func shortfall(v exam.Visit, verdict judge.Verdict) string {
	var found []string
	table := steps.Table()
	for _, f := range v.Findings {
		if step, _ := table.ByID(f.Step); f.Done() {
			found = append(found, step.Short+" "+f.Value.Show(step))
		}
	}
	return fmt.Sprintf("%s (%s, %s): %s; found: %s", v.Horse.Name, v.Class().Name, outcomeOf(v), verdict.Level, strings.Join(found, ", "))
}

// The thresholds are those asked of the judge; no rule of it was made from this
// file. What is read of the outcome is read from the notes, after judging.
func TestColicJudged(t *testing.T) {
	visits, _ := colicVisits(t)
	counts, short := judged(t, visits)
	lost := func(l exam.Level) int { return counts[l]["died"] + counts[l]["euthanized"] }
	levels := []exam.Level{ranges.LevelTell, ranges.LevelRecheck, ranges.LevelNote, ranges.LevelUsual}
	t.Logf("%-14s %6s %6s %8s %8s", "level", "lived", "died", "put down", "unknown")
	all, above := 0, 0
	for _, l := range levels {
		c := counts[l]
		t.Logf("%-14s %6d %6d %8d %8d", l, c["lived"], c["died"], c["euthanized"], c[""])
		all += lost(l)
		if l >= ranges.LevelRecheck {
			above += lost(l)
		}
	}
	told := lost(ranges.LevelTell)
	lived := 0
	for _, l := range levels {
		lived += counts[l]["lived"]
	}
	livedTold := counts[ranges.LevelTell]["lived"]
	t.Logf("two by two:    %14s %6s", "died/put down", "lived")
	t.Logf("tell the vet   %14d %6d", told, livedTold)
	t.Logf("below it       %14d %6d", all-told, lived-livedTold)
	t.Logf("of %d lost: recheck or above %.1f of 100, tell the vet %.1f of 100; of %d that lived, tell the vet %.1f of 100",
		all, 100*float64(above)/float64(all), 100*float64(told)/float64(all), lived, 100*float64(livedTold)/float64(lived))
	for _, s := range short {
		t.Log("below tell the vet: " + s)
	}
	require.Equal(t, 121, all)
	require.Equal(t, 178, lived)
	assert.GreaterOrEqual(t, float64(above), 0.95*float64(all), "recheck or above")
	assert.GreaterOrEqual(t, float64(told), 0.90*float64(all), "tell the vet")
}
