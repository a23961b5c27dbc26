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
	"loosebox/ranges/words"
)

// The four of the Nottingham and British Horse Society colic page (CURTIS, BOWDEN), and refill and pulse beside them.
func TestDangerSignsOfColic(t *testing.T) {
	j := whole(t)
	v := adult(t, heart(64), said("gum.colour", "pale"), said("pain.signs", "rolls"), seconds("gum.refill", 2.6), said("gut.sounds:left upper", "heard"))
	d, ok := j.Danger(v)
	require.True(t, ok)
	assert.Equal(t, "Danger signs from published studies of colic: 3 of 4 seen, 1 not checked", d.Line())
	assert.Equal(t, "no gut sound in a quadrant", words.Join(d.NotLooked), "one quadrant is not four")
	assert.Equal(t, "refill over 2.5 s", words.Join(d.Beside))
	assert.Equal(t, "weak pulse", words.Join(d.BesideOpen))
	assert.Equal(t, []string{
		"seen: heart 60 or more, abnormal gum color, severe or constant pain", "not checked: no gut sound in a quadrant",
		"seen beside them: refill over 2.5 s", "beside them not checked: weak pulse",
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
	assert.NotContains(t, words.Join(mini.Seen), "heart 60 or more", "62 is told of no miniature")

	foal, ok := j.Danger(visitOf(horseOf(t, ranges.FoalFirstDay), said("pulse.strength", "weak"), said("limb.warmth:overall", "even")))
	require.True(t, ok)
	assert.Equal(t, "Danger signs from published studies of ill newborn foals: 1 of 3 seen, 1 not checked", foal.Line())
}

// The order among those that are told: a dull donkey, then signs seen, then signs open, then the heart.
func TestDangerOrder(t *testing.T) {
	j := whole(t)
	of := func(class ranges.Class, find ...exam.Finding) judge.DangerCount {
		d, ok := j.Danger(visitOf(horseOf(t, class), find...))
		require.True(t, ok)
		return d
	}
	want := []judge.DangerCount{
		of(ranges.DonkeyAdult, said("demeanour", "dull")),
		of(ranges.AdultLight, heart(64), said("pain.signs", "rolls"), said("gum.colour", "pale"), said("gut.sounds:overall", "heard")),
		of(ranges.AdultLight, heart(64), said("pain.signs", "rolls")),
		of(ranges.AdultLight, heart(80), said("pain.signs", "rolls"), said("gum.colour", "pink"), said("gut.sounds:overall", "heard")),
		of(ranges.AdultLight, heart(62), said("pain.signs", "rolls"), said("gum.colour", "pink"), said("gut.sounds:overall", "heard")),
	}
	mixed := slices.Clone(want)
	slices.Reverse(mixed)
	slices.SortStableFunc(mixed, judge.DangerCount.Before)
	assert.Equal(t, want, mixed)
}

// An animal without a count (a mule, a yearling, a foal, an injury) can be worse than any few signs: it stands behind a horse
// with half of its signs or more, and before one with fewer. severity.md, section 2: of six signs 0-1 and 2-3 differ most.
func TestNoCountIsNeverBehindFewSigns(t *testing.T) {
	j := whole(t)
	usual := map[exam.StepID]exam.Finding{
		"heart.rate": heart(40), "gum.colour": said("gum.colour", "pink"), "pain.signs": said("pain.signs", "flank"), "gut.sounds": said("gut.sounds:overall", "heard"),
	}
	seen := []exam.Finding{heart(88), said("gum.colour", "white"), said("pain.signs", "rolls"), said("gut.sounds:overall", "none")}
	for n := range 5 {
		for open := range 5 - n { // of those that are not seen
			find := slices.Clone(seen[:n])
			for _, f := range seen[n+open:] {
				find = append(find, usual[f.Step])
			}
			v := adult(t, find...)
			v.Reason = "colic"
			counted, ok := j.Danger(v)
			require.True(t, ok)
			require.Len(t, counted.Seen, n)
			require.Len(t, counted.NotLooked, open)
			for _, class := range []ranges.Class{ranges.Mule, ranges.Yearling, ranges.Weanling, ranges.FoalToSixMonths} {
				none, ok := j.Danger(visitOf(horseOf(t, class), heart(140), said("pain.signs", "rolls")))
				require.False(t, ok, class)
				assert.Equal(t, n < 2, none.Before(counted) < 0, "%s beside %d seen, %d open", class, n, open)
				assert.Equal(t, n >= 2, counted.Before(none) < 0, "%s beside %d seen, %d open", class, n, open)
			}
		}
	}
}

// Before is an order: the same pair the other way round is the opposite, and no three run in a circle.
func TestDangerBeforeIsAnOrder(t *testing.T) {
	j := whole(t)
	var all []judge.DangerCount
	for _, v := range []exam.Visit{
		adult(t), adult(t, heart(80)), adult(t, heart(80), said("pain.signs", "rolls")), adult(t, six()...), adult(t, heart(64), said("gum.colour", "pale")),
		visitOf(horseOf(t, ranges.Mule), heart(120)), visitOf(horseOf(t, ranges.DonkeyAdult), said("demeanour", "dull")),
		visitOf(horseOf(t, ranges.FoalFirstDay), said("pulse.strength", "weak"), said("limb.warmth:overall", "even")),
		visitOf(horseOf(t, ranges.FoalFirstDay), said("pulse.strength", "weak"), said("limb.warmth:overall", "cold")),
	} {
		d, _ := j.Danger(v)
		all = append(all, d)
	}
	sign := func(n int) int { return min(max(n, -1), 1) }
	for _, a := range all {
		for _, b := range all {
			assert.Equal(t, sign(a.Before(b)), -sign(b.Before(a)))
			for _, c := range all {
				if a.Before(b) < 0 && b.Before(c) < 0 {
					assert.Negative(t, a.Before(c))
				}
			}
		}
	}
}

// What other programs read of danger signs is the same in every language; a person reads the language in use.
func TestDangerSignsAreReadInTheLanguageAndStoredInEnglish(t *testing.T) {
	var sign judge.DangerSign
	for _, e := range words.English() {
		if e.Sort == "danger sign of a count" && e.Text == "weak pulse" {
			sign = judge.DangerSign(e.Key)
		}
	}
	require.NotEmpty(t, sign)
	defer words.Use(nil)
	words.Use(words.Language{"danger sign of a count": {string(sign): "schwacher Puls"}})
	assert.Equal(t, "schwacher Puls", sign.String())
	data, err := json.Marshal(judge.DangerCount{Seen: []judge.DangerSign{sign}})
	require.NoError(t, err)
	assert.Contains(t, string(data), `"seen":["weak pulse"]`)
}
