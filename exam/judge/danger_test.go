package judge_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/ranges"
)

// The four of the Nottingham and British Horse Society colic page (CURTIS, BOWDEN), and refill and pulse beside them.
func TestDangerSignsOfColic(t *testing.T) {
	j := whole(t)
	v := adult(t, heart(64), said("gum.colour", "pale"), said("pain.signs", "rolls"), seconds("gum.refill", 2.6), said("gut.sounds:left upper", "heard"))
	d, ok := j.Danger(v)
	require.True(t, ok)
	assert.Equal(t, "Danger signs from published studies of colic: 3 of 4 seen, 1 not looked at", d.Line())
	assert.Equal(t, []string{"no gut sound in a quadrant"}, d.NotLooked, "one quadrant is not four")
	assert.Equal(t, []string{"refill over 2.5 s"}, d.Beside)
	assert.Equal(t, []string{"weak pulse"}, d.BesideOpen)
	assert.Equal(t, []string{
		"seen: heart 60 or more, abnormal gum colour, severe or constant pain", "not looked at: no gut sound in a quadrant",
		"seen beside them: refill over 2.5 s", "beside them not looked at: weak pulse",
	}, d.Lines())
	assert.Contains(t, d.Source, "Acta Vet Scand 2015;57:69")

	_, ok = j.Danger(adult(t, heart(40), said("gum.colour", "pink")))
	assert.False(t, ok, "neither a visit for colic nor a sign")
	none, ok := j.Danger(adult(t, append(six("pain.signs"), said("pain.signs", "flank"))...))
	require.True(t, ok)
	assert.Equal(t, "Danger signs from published studies of colic: 0 of 4 seen", none.Line(), "and nothing good is said of it")
	for _, class := range []ranges.Class{ranges.Mule, ranges.Weanling, ranges.FoalToSixMonths} {
		_, ok := j.Danger(visitOf(horseOf(t, class), heart(120), said("pain.signs", "rolls")))
		assert.False(t, ok, class)
	}
	mini, _ := j.Danger(visitOf(horseOf(t, ranges.Miniature), heart(62), said("pain.signs", "rolls")))
	assert.NotContains(t, mini.Seen, "heart 60 or more", "62 is told of no miniature")

	foal, ok := j.Danger(visitOf(horseOf(t, ranges.FoalFirstDay), said("pulse.strength", "weak"), said("limb.warmth:overall", "even")))
	require.True(t, ok)
	assert.Equal(t, "Danger signs from published studies of ill newborn foals: 1 of 3 seen, 1 not looked at", foal.Line())
}

// The order among those that are told: a dull donkey, then signs seen, then signs open, then the heart.
func TestDangerOrder(t *testing.T) {
	j := whole(t)
	of := func(class ranges.Class, find ...exam.Finding) judge.Danger {
		d, ok := j.Danger(visitOf(horseOf(t, class), find...))
		require.True(t, ok)
		return d
	}
	want := []judge.Danger{
		of(ranges.DonkeyAdult, said("demeanour", "dull")),
		of(ranges.AdultLight, heart(64), said("pain.signs", "rolls"), said("gum.colour", "pale"), said("gut.sounds:overall", "heard")),
		of(ranges.AdultLight, heart(64), said("pain.signs", "rolls")),
		of(ranges.AdultLight, heart(80), said("pain.signs", "rolls"), said("gum.colour", "pink"), said("gut.sounds:overall", "heard")),
		of(ranges.AdultLight, heart(62), said("pain.signs", "rolls"), said("gum.colour", "pink"), said("gut.sounds:overall", "heard")),
	}
	mixed := slices.Clone(want)
	slices.Reverse(mixed)
	slices.SortStableFunc(mixed, judge.Danger.Before)
	assert.Equal(t, want, mixed)
}
