package judge_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// drawFinding draws an answer to any step, sound or broken.
func drawFinding(r *rapid.T, all []exam.Step) exam.Finding {
	s := rapid.SampledFrom(all).Draw(r, "step")
	f := exam.Finding{Step: s.ID}
	if len(s.Sites) > 0 {
		f.Site = rapid.SampledFrom(s.Sites).Draw(r, "site")
	}
	f.Value.Kind = s.Kind
	switch s.Kind {
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		f.Value.Words = []string{rapid.SampledFrom(s.Choices).Draw(r, "choice").Key}
	case exam.KindEvent:
		f.Value.Words = []string{rapid.SampledFrom(s.Choices).Draw(r, "choice").Key}
		if rapid.Bool().Draw(r, "timed") {
			at := time.Unix(rapid.Int64Range(0, 4e9).Draw(r, "at"), 0)
			f.Value.At = &at
		}
	case exam.KindNote:
		f.Value.Text = "x"
	case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
		v := rapid.OneOf(rapid.Float64Range(0, 120), rapid.Float64()).Draw(r, "value")
		unit := s.Unit
		if len(s.Units) > 0 {
			unit = rapid.SampledFrom(s.Units).Draw(r, "unit")
		}
		f.Value.Number = &notation.Quantity{Value: v, Unit: unit}
		if s.Kind == exam.KindCount {
			f.Value.Count = &exam.Count{HalfWidth: rapid.Float64Range(0, 3).Draw(r, "half")}
		}
	}
	return f
}

func drawVisit(r *rapid.T, t *testing.T, class ranges.Class) exam.Visit {
	all := steps.Table().All()
	n := rapid.IntRange(0, 25).Draw(r, "n")
	seen := map[exam.Key]bool{}
	var findings []exam.Finding
	for range n {
		if f := drawFinding(r, all); !seen[f.Key()] {
			seen[f.Key()] = true
			findings = append(findings, f)
		}
	}
	return visitOf(horseOf(t, class), findings...)
}

// Context lowers no level but one: a heart or breathing rate that is told on its high side is taken again just after work.
// No temperature is ever lowered, and nothing by excitement, travel or heat.
func TestContextLowersOnlyARateJustAfterWork(t *testing.T) {
	j := whole(t)
	// Random draws meet a lowered rate seldom: the rule is seen at work once by a fixed case.
	assert.Equal(t, ranges.LevelTell, j.Visit(adult(t, heart(64)), nil).Level)
	assert.Equal(t, ranges.LevelRecheck, j.Visit(worked(adult(t, heart(64))), nil).Level)

	rapid.Check(t, func(r *rapid.T) {
		class := rapid.SampledFrom(ranges.Classes()).Draw(r, "class")
		v := drawVisit(r, t, class)
		if rapid.Bool().Draw(r, "rates alone") {
			v.Findings = []exam.Finding{heart(rapid.Float64Range(40, 100).Draw(r, "heart")), breaths(rapid.Float64Range(8, 60).Draw(r, "breaths"))}
		}
		calm, before := j.Standings(v, nil)
		v.Context.States = rapid.SliceOfDistinct(rapid.SampledFrom(exam.States()), func(s exam.State) exam.State { return s }).Draw(r, "states")
		stirred, after := j.Standings(v, nil)
		require.Len(t, stirred, len(calm))
		for i := range calm {
			if stirred[i].Level == calm[i].Level {
				continue
			}
			assert.True(t, v.Context.Has(exam.StateWorked))
			assert.Contains(t, []exam.StepID{"heart.rate", "breath.rate"}, calm[i].Step)
			assert.Equal(t, ranges.LevelTell, calm[i].Level)
			assert.Equal(t, ranges.LevelRecheck, stirred[i].Level)
			assert.GreaterOrEqual(t, after, ranges.LevelRecheck)
		}
		if !v.Context.Has(exam.StateWorked) {
			assert.Equal(t, before, after)
		}
	})
}

// The level never falls as a value moves away from the middle of what is usual, in any class and unit, whatever the
// half-width of the count and the horse's own past.
func TestLevelRisesWithDistance(t *testing.T) {
	table, j := builtIn(t), whole(t)
	rows := table.Rows()
	rapid.Check(t, func(r *rapid.T) {
		row := rapid.SampledFrom(rows).Draw(r, "row")
		low, hasLow := row.Usual.Edge(ranges.SideLow)
		high, hasHigh := row.Usual.Edge(ranges.SideHigh)
		if !hasLow {
			low = 0
		}
		if !hasHigh { // no usual range was read: from between the limits
			low, _ = row.Tell.Edge(ranges.SideLow)
			high, _ = row.Recheck.Edge(ranges.SideHigh)
		}
		middle := (low + high) / 2
		near := rapid.Float64Range(0, 60).Draw(r, "near")
		away := near + rapid.Float64Range(0, 60).Draw(r, "further")
		if rapid.Bool().Draw(r, "below") {
			near, away = -near, -away
		}
		half := rapid.Float64Range(0, 2).Draw(r, "half")
		h := horseOf(t, row.Class)
		level := func(v float64) exam.Level {
			f := measured(exam.StepID(row.Measure), v, notation.Unit(row.Unit))
			if row.Unit == ranges.PerMinute {
				f.Value.Count = &exam.Count{HalfWidth: half}
			}
			remark, ok := j.Finding(visitOf(h, f), f, nil)
			require.True(t, ok)
			return remark.Level
		}
		assert.GreaterOrEqual(t, level(middle+away), level(middle+near), "%s %s: %v then %v from %v", row.Class, row.Measure, near, away, middle)
	})
}

// The same findings in another order give the same verdict; nothing panics, whatever the numbers are.
func TestTheOrderOfFindingsDoesNotMatter(t *testing.T) {
	j := whole(t)
	rapid.Check(t, func(r *rapid.T) {
		v := drawVisit(r, t, rapid.SampledFrom(ranges.Classes()).Draw(r, "class"))
		earlier := []exam.Visit{before(v.Horse, 1e12, v.Findings...)}
		want := j.Visit(v, earlier)
		for i := 1; i < len(want.Remarks); i++ {
			a, b := want.Remarks[i-1], want.Remarks[i]
			assert.True(t, a.Level > b.Level || (a.Level == b.Level && a.Rank < b.Rank), "%v before %v", a, b)
		}
		seed := rapid.Uint64().Draw(r, "seed")
		mixed := append([]exam.Finding(nil), v.Findings...)
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(mixed), func(a, b int) { mixed[a], mixed[b] = mixed[b], mixed[a] })
		v.Findings = mixed
		assert.Equal(t, want, j.Visit(v, earlier))
	})
}

// A finding judged alone gives the remark that stands in the verdict.
func TestFindingIsTheRemarkOfTheVerdict(t *testing.T) {
	j := whole(t)
	rapid.Check(t, func(r *rapid.T) {
		v := drawVisit(r, t, rapid.SampledFrom(ranges.Classes()).Draw(r, "class"))
		verdict := j.Visit(v, nil)
		for _, f := range v.Findings {
			alone, ok := j.Finding(v, f, nil)
			if !ok || alone.Level < ranges.LevelNote {
				continue
			}
			assert.Contains(t, verdict.Remarks, alone)
		}
	})
}
