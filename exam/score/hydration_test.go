package score_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

func p(v float64) *float64 { return &v }

func yes(v bool) *bool { return &v }

// row are the signs of one row of the table of 6, 8, 10 and 12 % (from memory,
// exam values 2.3).
func row(refill float64, moisture string, heart float64, eyes bool, tent float64) score.HydrationSigns {
	return score.HydrationSigns{
		Class: ranges.AdultLight, RefillS: p(refill), Moisture: moisture, Heart: p(heart), EyesSunken: yes(eyes), TentS: p(tent),
	}
}

func TestRowsOfTheTableFallIntoTheirBands(t *testing.T) {
	for _, c := range []struct {
		s    score.HydrationSigns
		want score.Band
	}{
		{row(1.5, "moist", 36, false, 1), score.NoLoss},
		{row(2, "tacky", 52, false, 2.5), score.About5},
		{row(3, "tacky", 70, false, 4), score.About8},
		{row(3, "dry", 70, false, 4), score.About8},
		{row(4, "dry", 90, true, 6), score.TenOrMore},
		{row(5, "dry", 110, true, 20), score.TenOrMore},
	} {
		h := score.HydrationBand(c.s)
		assert.True(t, h.Known)
		assert.Equal(t, c.want, h.Band, "%+v", h.Items)
		assert.Equal(t, c.want == score.NoLoss, len(h.Drove) == 0)
	}
}

func TestSkinTentAloneMakesNoBand(t *testing.T) {
	h := score.HydrationBand(score.HydrationSigns{Class: ranges.AdultLight, TentS: p(9)})
	assert.False(t, h.Known)
	h = score.HydrationBand(score.HydrationSigns{Class: ranges.AdultLight, TentS: p(9), Moisture: "moist"})
	assert.False(t, h.Known, "one sign beside it is not enough")
	h = score.HydrationBand(score.HydrationSigns{Class: ranges.AdultLight, TentS: p(9), Moisture: "moist", RefillS: p(1)})
	assert.True(t, h.Known)
	assert.Equal(t, score.NoLoss, h.Band)
	assert.Equal(t, "skin tent", h.Alone.String())
	assert.Contains(t, h.Words, "none to be seen")
	assert.Contains(t, h.Words, "the skin tent points further, and is never used alone")
}

func TestHeartCountsOnlyAtRestAndInHorses(t *testing.T) {
	s := score.HydrationSigns{Class: ranges.AdultLight, Heart: p(90), RefillS: p(4)}
	assert.Equal(t, score.TenOrMore, score.HydrationBand(s).Band)
	s.Stirred = []exam.State{exam.StateWorked}
	assert.False(t, score.HydrationBand(s).Known)
	s.Stirred, s.Class = nil, ranges.FoalFirstWeek
	assert.False(t, score.HydrationBand(s).Known, "a foal's heart beats at 90 in health")
}

func TestOneSignStandingOutIsNamed(t *testing.T) {
	h := score.HydrationBand(row(1.5, "moist", 36, true, 1))
	assert.Equal(t, score.NoLoss, h.Band)
	assert.Equal(t, "eyes", h.Alone.String())
	assert.Equal(t, "no two signs agree on any; by eyes alone 10 % or more: look again", h.Words, "never none to be seen beside one that speaks")
	h = score.HydrationBand(score.HydrationSigns{Jugular: "none", Moisture: "dry"})
	assert.Equal(t, score.About8, h.Band)
	assert.Equal(t, []string{"gum moisture dry", "jugular filling does not fill"}, h.Drove)
	assert.False(t, score.HydrationBand(score.HydrationSigns{Jugular: "high", Moisture: "dry"}).Known)
}

// MSD Veterinary Manual, fluid needs in dehydrated horses: 10 % of 500 kg, 50 L.
func TestLitresOfABand(t *testing.T) {
	assert.Equal(t, "about 25 L (5 % of 500 kg)", score.About5.Litres(500))
	assert.Equal(t, "from 50 L (10 % of 500 kg)", score.TenOrMore.Litres(500))
	assert.Empty(t, score.NoLoss.Litres(500))
	assert.Empty(t, score.About5.Litres(0))
	assert.Equal(t, "10 % or more", score.Band(9).String())
}

// A worse sign never makes a lower band, whatever stands beside it.
func TestWorseSignsNeverLowerTheBand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		moist := rapid.SampledFrom([]string{"moist", "tacky", "dry", ""}).Draw(t, "moisture")
		jug := rapid.SampledFrom([]string{"prompt", "slow", "none", ""}).Draw(t, "jugular")
		a := rapid.Float64Range(0, 10).Draw(t, "refill")
		b := rapid.Float64Range(a, 10).Draw(t, "refill later")
		s := score.HydrationSigns{Class: ranges.Draft, Moisture: moist, Jugular: jug, RefillS: p(a), TentS: p(rapid.Float64Range(0, 10).Draw(t, "tent"))}
		before := score.HydrationBand(s)
		s.RefillS = p(b)
		after := score.HydrationBand(s)
		assert.GreaterOrEqual(t, after.Band, before.Band)
		assert.Equal(t, before.Known, after.Known)
		if before.Band > score.NoLoss {
			assert.NotEqual(t, "skin tent", strings.Join(before.Drove, ""), "never from the tent alone")
			assert.GreaterOrEqual(t, len(before.Drove), 2)
		}
	})
}

func TestSignsAndVitalsOfAVisit(t *testing.T) {
	num := func(id exam.StepID, v float64, u notation.Unit) exam.Finding {
		return exam.Finding{Step: id, Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: u}}}
	}
	pick := func(id exam.StepID, site exam.Site, words ...string) exam.Finding {
		return exam.Finding{Step: id, Site: site, Value: exam.Value{Kind: exam.KindPick, Words: words}}
	}
	v := exam.Visit{
		Horse: exam.Horse{Kind: exam.AnimalHorse}, Context: exam.Context{States: []exam.State{exam.StateRest}},
		Findings: []exam.Finding{
			num("gum.refill", 3.2, notation.Seconds), num("heart.rate", 66, notation.PerMinute), num("temp.rectal", 102.2, notation.Fahrenheit), num("breath.rate", 22, notation.PerMinute),
			pick("gum.moisture", "", "dry"), pick("jugular.fill", "", "slow"), pick("eye.look", exam.Left, "sunken"), pick("eye.look", exam.Right, "clear"),
			pick("gum.colour", "", "toxicline"), pick("demeanour", "", "dull"),
			{Step: "skin.tent", NotDone: exam.ReasonUnsafe},
		},
	}
	s := score.HydrationSignsOf(v)
	assert.True(t, *s.EyesSunken)
	assert.Nil(t, s.TentS)
	assert.Equal(t, score.About8, score.HydrationBand(s).Band)
	vit := score.VitalsOf(v)
	assert.InDelta(t, 39, *vit.TempC, 1e-9)
	assert.False(t, *vit.GumsPink)
	assert.Equal(t, 3, *vit.MembraneGrade)
	assert.Nil(t, vit.GeneralGrade, "dull is moderately or severely reduced: a person is asked")
	count, err := score.SIRSItems(vit)
	require.NoError(t, err)
	assert.Equal(t, [2]int{4, 4}, [2]int{count.Outside, count.Seen})
	assert.Nil(t, score.HydrationSignsOf(exam.Visit{}).EyesSunken)
	assert.Nil(t, score.VitalsOf(exam.Visit{}).GumsPink)
}
