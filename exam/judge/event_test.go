package judge_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/score"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// Walker, bova.vet 2023: stand usual under 1 h, abnormal from 2 h; Lenz, AQHA 2016: not nursing by 3 h is told; the rule of
// 1, 2 and 3: afterbirth after 3 h is told.
func TestMilestonesAreJudgedByTheClock(t *testing.T) {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	j := judge.New(table, steps.Table())
	born := time.Date(2026, 4, 3, 2, 10, 0, 0, time.UTC)
	finding := func(step exam.StepID, answeredAfter time.Duration, seenAfter ...time.Duration) exam.Finding {
		f := exam.Finding{Step: step, At: born.Add(answeredAfter), Value: exam.Value{Kind: exam.KindEvent, Words: []string{exam.EventNotYet}}}
		if len(seenAfter) > 0 {
			at := born.Add(seenAfter[0])
			f.Value = exam.Value{Kind: exam.KindEvent, Words: []string{exam.EventSeen}, At: &at}
		}
		return f
	}
	visit := func(precision exam.BirthPrecision, found ...exam.Finding) exam.Visit {
		return exam.Visit{
			OpenedAt: born.Add(time.Hour), Findings: found,
			Horse: exam.Horse{Name: "Wren", Kind: exam.AnimalHorse, Birth: exam.Birth{At: born, Precision: precision}},
		}
	}
	for _, c := range []struct {
		f     exam.Finding
		level exam.Level
		why   string
	}{
		{finding("foal.stand", 3*time.Hour, 59*time.Minute), ranges.LevelUsual, "Seen 59 min after the birth; usual by 1 h, the veterinarian is told from 2 h."},
		{finding("foal.stand", 3*time.Hour, 60*time.Minute), ranges.LevelRecheck, "Seen 1 h after the birth"},
		{finding("foal.stand", 3*time.Hour, 2*time.Hour), ranges.LevelTell, "Seen 2 h after the birth"},
		{finding("foal.stand", 90*time.Minute), ranges.LevelRecheck, "Not yet after 1 h 30 min; usual by 1 h, the veterinarian is told from 2 h. Look again in 30 min."},
		{finding("foal.nurse", 3*time.Hour), ranges.LevelTell, "told from 3 h"},
		{finding("foal.nurse", 20*time.Minute), ranges.LevelUsual, "Look again in 1 h 40 min."},
		{finding("foal.afterbirth", 3*time.Hour), ranges.LevelTell, "told from 3 h"},
		{finding("foal.urine", 11*time.Hour), ranges.LevelRecheck, "told from 12 h"},
	} {
		r, ok := j.Finding(visit(exam.BornMinute, c.f), c.f, nil)
		require.True(t, ok, c.why)
		assert.Equal(t, c.level, r.Level, c.why)
		assert.Contains(t, r.Why, c.why)
		assert.NotEmpty(t, r.Source)
		m, _ := score.MilestoneOf(c.f.Step)
		assert.Equal(t, m.Evidence, r.Evidence)
	}

	// Nobody knows when: late only where it cannot have been in time.
	somehow := finding("foal.stand", 3*time.Hour)
	somehow.Value = exam.Value{Kind: exam.KindEvent, Words: []string{exam.EventSeen}}
	verdict := j.Visit(visit(exam.BornMinute, somehow), nil)
	assert.Empty(t, verdict.Remarks)
	require.Len(t, verdict.NotJudged, 1)
	assert.Contains(t, verdict.NotJudged[0].Why, "time not known")

	// Born some time that day: what is late even from midnight on is late; the rest is not judged.
	born = time.Date(2026, 4, 3, 0, 0, 0, 0, time.UTC)
	late := finding("foal.stand", 27*time.Hour)
	verdict = j.Visit(visit(exam.BornDay, late), nil)
	assert.Equal(t, ranges.LevelTell, verdict.Level)
	early := finding("foal.stand", 6*time.Hour)
	verdict = j.Visit(visit(exam.BornDay, early), nil)
	assert.Empty(t, verdict.Remarks)
	require.Len(t, verdict.NotJudged, 1)
	assert.Contains(t, verdict.NotJudged[0].Why, "the minute of birth is not known")
}
