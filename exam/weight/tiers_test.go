package weight_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

// No equation and no method carries a tier that its works do not earn; every work is named once and used.
func TestNoWorkIsCalledMoreThanItIs(t *testing.T) {
	used := map[string]bool{}
	for _, e := range append(weight.Equations(), weight.IdealEquations()...) {
		text, tier, ok := weight.Works().Cite(e.From)
		require.True(t, ok, "%s names the works %q", e.ID, e.From)
		assert.Equal(t, text, e.Source, e.ID)
		assert.True(t, tier.Carries(e.Evidence), "%s is %s on %s (%s)", e.ID, e.Evidence, text, tier)
		for code := range strings.SplitSeq(e.From, "+") {
			used[code] = true
		}
	}
	for _, w := range weight.Works() {
		assert.Contains(t, ranges.Tiers(), w.Tier, w.Code)
		assert.True(t, used[w.Code], "%s is no equation's", w.Code)
		delete(used, w.Code)
		assert.Empty(t, examtest.NoSource(w.Text), w.Text)
	}
	assert.Empty(t, used, "named twice")
	for _, m := range weight.Methods() {
		assert.Contains(t, ranges.Tiers(), m.Evidence, m.Name)
		for _, p := range m.Published {
			assert.Contains(t, ranges.Tiers(), p.Evidence, p.Whom)
			assert.Empty(t, examtest.NoSource(p.Source), p.Source)
		}
	}
	small, _ := weight.MethodOf(exam.WeightTape, grown(exam.AnimalMiniature, ""), 90)
	assert.Equal(t, ranges.CommonPractice, small.Evidence, "the thesis was read in a copy that does not name its author")
	ratio, ok := weight.NeckToHeight(exam.AnimalHorse, weight.Measures{NeckCm: 100, HeightCm: 160})
	require.True(t, ok)
	assert.Empty(t, examtest.TooStrong(ratio.Source, ratio.Evidence))
}
