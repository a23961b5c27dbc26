package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// No score, event or time to wait carries a tier that its source does not earn.
func TestNoSourceIsCalledMoreThanItIs(t *testing.T) {
	for _, m := range score.Milestones() {
		assert.Empty(t, examtest.TooStrong(m.Source, m.Evidence), "%s: %s", m.Step, m.Source)
	}
	for _, step := range []exam.StepID{"condition.score", "pain.grimace", "neck.crest", "foal.stand"} {
		b, ok := score.BasisOf(step)
		require.True(t, ok)
		assert.Empty(t, examtest.TooStrong(b.Source, b.Evidence), "%s: %s", step, b.Source)
	}
	for _, step := range []exam.StepID{"gum.refill", "neck.girth"} {
		b, ok := score.GoesInto(step)
		require.True(t, ok)
		assert.Empty(t, examtest.TooStrong(b.Source, b.Evidence), "%s: %s", step, b.Source)
	}
	heat, err := score.HeatSum(notation.Quantity{Value: 30, Unit: notation.Celsius}, 60)
	require.NoError(t, err)
	globe, err := score.WetBulbGlobe(notation.Quantity{Value: 30, Unit: notation.Celsius})
	require.NoError(t, err)
	for _, b := range []score.Basis{heat.Basis, globe.Basis} {
		assert.Empty(t, examtest.TooStrong(b.Source, b.Evidence), b.Source)
	}
	all := exam.Context{States: []exam.State{exam.StateWorked, exam.StateExcited, exam.StateTravelled, exam.StateHot}}
	for _, e := range score.Effects(all) {
		assert.Empty(t, examtest.TooStrong(e.Source, e.Evidence), "%s %s: %s", e.State, e.Measure, e.Source)
	}
}

// Every time to wait after work stands in one list with its source: 15 min, then 64 by 20 min (FEI endurance trial rule 2019)
// and 60 by 30 min (our own; 489 endurance horses, Equine Vet J Suppl 2002).
func TestTheTimesAfterWorkStandInOneList(t *testing.T) {
	var words []string
	for _, e := range score.EffectsOn(exam.Context{States: []exam.State{exam.StateWorked}}, "heart.rate") {
		words = append(words, e.Words)
		assert.NotEmpty(t, e.Source)
		switch e.Words {
		case "told if it is above 64 /min 20 min after the first count":
			assert.Equal(t, ranges.Published, e.Evidence)
			assert.NotContains(t, e.Lines()[0], "again after", "nothing is taken again for it")
		case "told if it is above 60 /min after 30 min":
			assert.Equal(t, ranges.CommonPractice, e.Evidence)
		}
	}
	assert.Contains(t, words, "told if it is above 64 /min 20 min after the first count")
	assert.Contains(t, words, "told if it is above 60 /min after 30 min")
	minutes, ok := score.Again(exam.Context{States: []exam.State{exam.StateWorked}}, "heart.rate")
	require.True(t, ok)
	assert.Equal(t, [2]int{10, 45}, minutes, "the gates move nothing")
}
