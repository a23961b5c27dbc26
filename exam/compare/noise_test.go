package compare_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
)

// The published example of a letter on yearly checks (read at souforum.com, "Health MOTs: consider reference change
// values"): cholesterol varies by 6.0 % within a person and the laboratory by 2.1 %, so that 5.8 mmol/L a year after
// 5.1 is no significant increase. The multiple of one standard deviation is printed as 2.8 for laboratory results
// (baspath.co.uk, critical differences, after Fraser 1986) and as 2.77 for bone density (iscd.org, glossary), where
// 0.008 g/cm² makes 0.022 (Nelson et al. 2010, abstract).
func TestReferenceChangeAsPublished(t *testing.T) {
	limit := compare.ReferenceChange(6.0, 2.1, 2.1)
	assert.Less(t, 100*(5.8-5.1)/5.1, limit)
	assert.Greater(t, 100*(6.0-5.1)/5.1, limit, "6.0 would have been one: 17.6 % against 17.65 %")
	assert.Equal(t, "2.8", notation.FormatNumber(compare.ReferenceChange(1, 0, 0), 1))
	assert.Equal(t, "2.77", notation.FormatNumber(compare.ReferenceChange(0, 1, 1), 2))
	assert.Equal(t, "0.022", notation.FormatNumber(compare.ReferenceChange(0, 0.008, 0.008), 3))
	// z = 1.96 of the normal distribution, both sides
	assert.InDelta(t, 0.05, math.Erfc(compare.Z/math.Sqrt2), 5e-5)
}

// heartVisits are resting visits with tapped counts, the newest of them a month before the visit at hand.
func heartVisits(half float64, values ...float64) []exam.Visit {
	out := make([]exam.Visit, len(values))
	for i, v := range values {
		out[i] = visit(i+1, counted(v, half))
	}
	return out
}

func changeOf(t testing.TB, now exam.Finding, earlier []exam.Visit) compare.Change {
	t.Helper()
	step, ok := theSteps().ByID(now.Step)
	require.True(t, ok)
	return compare.ChangeAt(theJudge(t), visit(0, now), now.Key(), step, now.Value.Number.Unit, earlier)
}

// With four earlier visits the horse's own scatter decides: 36, 40, 38, 42 have a median of 39 and distances of 1 and 3,
// so 1.4826 x 1.363 x 2 = 4.04 /min, of which a counting error of 0.5/1.96 is taken off and twice put on again.
func TestChangeAgainstTheHorsesOwnPast(t *testing.T) {
	earlier := heartVisits(0.5, 36, 40, 38, 42)
	c := changeOf(t, counted(48, 0.5), earlier)
	sd := 1.4826 * 1.363 * 2
	assert.InDelta(t, 1.96*math.Sqrt2*sd, c.Noise.Limit, 1e-9)
	assert.InDelta(t, math.Sqrt(sd*sd-0.25/1.96/1.96), c.Noise.Within, 1e-9)
	assert.Equal(t, compare.FromOwn, c.Noise.From)
	assert.Equal(t, 4, c.Noise.Visits)
	assert.Equal(t, compare.Changed, c.Verdict)
	assert.Equal(t, "up 12 /min since 12 Mar 2026; changed (normal variation up to 11.2 /min)", c.Means)
	assert.Equal(t, compare.WithinNoise, changeOf(t, counted(47, 0.5), earlier).Verdict)
	// a coarse count needs a larger change
	coarse := changeOf(t, byEar(47.5, 15), earlier)
	assert.Equal(t, compare.WithinNoise, coarse.Verdict)
	assert.Equal(t, compare.Changed, changeOf(t, counted(47.5, 0.5), earlier).Verdict)
	assert.InDelta(t, math.Hypot(c.Noise.Limit, 1.96*24.5/15), math.Hypot(coarse.Noise.Limit, 0.5), 1e-6)
	assert.Equal(t, compare.NotKnown, changeOf(t, counted(48, 0.5), earlier[:3]).Verdict, "three visits are too few")
}

// Readings that were all alike do not make the next one a change: the least scatter is that of the own range.
func TestEqualReadingsHaveTheScatterOfTheOwnRange(t *testing.T) {
	c := changeOf(t, counted(41, 0.1), heartVisits(0.1, 36, 36, 36, 36))
	assert.InDelta(t, 1.96*math.Sqrt2*2, c.Noise.Limit, 0.01)
	assert.Equal(t, compare.WithinNoise, c.Verdict)
	assert.Equal(t, compare.Changed, changeOf(t, counted(42, 0.1), heartVisits(0.1, 36, 36, 36, 36)).Verdict)
}

// Only grown horses have a published daily swing; a foal, a donkey and a mule borrow none.
func TestNoPublishedVariationIsBorrowed(t *testing.T) {
	for kind, want := range map[exam.AnimalKind]compare.NoiseSource{
		exam.AnimalHorse: compare.FromPublished, exam.AnimalPony: compare.FromPublished, exam.AnimalDraft: compare.FromPublished,
		exam.AnimalDonkey: compare.OriginUnknown, exam.AnimalMule: compare.OriginUnknown, exam.AnimalMiniature: compare.OriginUnknown,
	} {
		now, then := visit(0, number("temp.rectal", 39, notation.Celsius)), visit(1, number("temp.rectal", 38, notation.Celsius))
		now.Horse.Kind, then.Horse.Kind = kind, kind
		c := visits(t, now, then).Rows[0].Change
		assert.Equal(t, want, c.Noise.From, kind)
		assert.Equal(t, want == compare.FromPublished, c.Verdict == compare.Changed, kind)
	}
}

// A foal's rate is not set against the one it had in another class.
func TestAnotherClassThenIsNoChangeOfTheHorse(t *testing.T) {
	now, then := visit(0, counted(60, 0.5)), visit(3, counted(90, 0.5))
	for _, v := range []*exam.Visit{&now, &then} {
		v.Horse.Birth = exam.Birth{At: newest().AddDate(0, -7, 0), Precision: exam.BornDay}
	}
	c := visits(t, now, then).Rows[0].Change
	assert.Equal(t, compare.NotKnown, c.Verdict)
	assert.Contains(t, c.Means, "of another class then (foal, 1 to 6 months)")
}

// The standard error of trials, by gonum.
func TestTrialsAgainstGonum(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		trials := rapid.SliceOfN(rapid.Float64Range(0.5, 8), 2, 6).Draw(r, "trials")
		f := number("gum.refill", 2, notation.Seconds)
		f.Value.TrialsS = trials
		c := changeOf(t, f, []exam.Visit{visit(1, f)})
		assert.InDelta(t, stat.StdErr(stat.StdDev(trials, nil), float64(len(trials))), c.Noise.Now.SD, 1e-9)
	})
}

// Two visits of a horse that does not change: about 95 of 100 changes are noise, whatever it was counted with. With
// four earlier visits the scatter itself is poorly known, so that more slip through; the test says how many.
func TestNoiseHoldsChanceChanges(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 7))
	for _, c := range []struct {
		visits    int
		within    float64
		err       float64
		from, to  float64
		windowSec float64
	}{
		{visits: 4, within: 4, err: 0.3, from: 0.04, to: 0.16},
		{visits: 10, within: 4, err: 0.3, from: 0.04, to: 0.10},
		{visits: 20, within: 4, err: 0.3, from: 0.04, to: 0.08},
		{visits: 20, within: 4, windowSec: 15, from: 0.03, to: 0.08},
	} {
		read := func() exam.Finding {
			if c.windowSec > 0 {
				beats := math.Floor((40+c.within*rng.NormFloat64())*c.windowSec/60 + rng.Float64())
				return byEar(beats*60/c.windowSec, c.windowSec)
			}
			return counted(40+c.within*rng.NormFloat64()+c.err*rng.NormFloat64(), 1.96*c.err)
		}
		const runs = 2000
		alarms := 0
		for range runs {
			earlier := make([]exam.Visit, c.visits)
			for i := range earlier {
				earlier[i] = visit(i+1, read())
			}
			if changeOf(t, read(), earlier).Verdict == compare.Changed {
				alarms++
			}
		}
		share := float64(alarms) / runs
		t.Logf("%d earlier visits, window %v s: %.3f of chance changes are called changed", c.visits, c.windowSec, share)
		assert.GreaterOrEqual(t, share, c.from)
		assert.LessOrEqual(t, share, c.to)
	}
}

// The same change in C and F, in kg and lb, is worth the same.
func TestNoiseDoesNotDependOnTheUnit(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		past := rapid.SliceOfN(rapid.Float64Range(36, 40), 1, 8).Draw(r, "past")
		now := rapid.Float64Range(36, 41).Draw(r, "now")
		in := func(c float64, u notation.Unit) exam.Finding {
			q, _ := notation.Quantity{Value: c, Unit: notation.Celsius}.In(u)
			return number("temp.rectal", q.Value, u)
		}
		earlier := make([]exam.Visit, len(past))
		for i, v := range past {
			earlier[i] = visit(i+1, in(v, notation.Celsius))
		}
		c, f := changeOf(t, in(now, notation.Celsius), earlier), changeOf(t, in(now, notation.Fahrenheit), earlier)
		assert.InDelta(t, 1.8*c.Noise.Limit, f.Noise.Limit, 1e-9)
		if math.Abs(math.Abs(*c.By)-c.Noise.Limit) > 1e-4 {
			assert.Equal(t, c.Verdict, f.Verdict)
		}
	})
}

// Whatever is in the record, the limit is a number and no larger measurement error makes it smaller.
func TestNoiseIsANumber(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		any64 := rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 200), rapid.Just(math.NaN()), rapid.Just(math.Inf(1)))
		earlier := heartVisits(any64.Draw(r, "half"), rapid.SliceOfN(any64, 0, 7).Draw(r, "past")...)
		now := counted(any64.Draw(r, "now"), any64.Draw(r, "now half"))
		c := changeOf(t, now, earlier)
		assert.False(t, math.IsNaN(c.Noise.Limit))
		_, err := json.Marshal(compare.Visits([]exam.Visit{visit(0, now)}, earlier, theJudge(t), theSteps()).Document())
		assert.NoError(t, err)
	})
}

func TestNoiseIsExplained(t *testing.T) {
	text := strings.Join(changeOf(t, counted(48, 0.5), heartVisits(0.5, 36, 40, 38, 42)).Noise.Explain(), "\n")
	for _, part := range []string{
		"1.96 x sqrt(2 x within² + this² + last²)", "within this horse 4 /min (standard deviation of 4 earlier visits",
		"this measurement: the tapped count, 0.26 /min", "limit: 11.2 /min", "Clin Chem Lab Med 2012;50:807-812", "published",
	} {
		assert.Contains(t, text, part)
	}
	alone := strings.Join(changeOf(t, counted(48, 0.5), heartVisits(0.5, 36)).Noise.Explain(), "\n")
	assert.Contains(t, alone, "this horse's day-to-day variation is not")
	assert.Contains(t, alone, "limit of accuracy alone: 0.71 /min")
	temp := changeOf(t, number("temp.rectal", 39, notation.Celsius), []exam.Visit{visit(1, number("temp.rectal", 38, notation.Celsius))})
	assert.Contains(t, strings.Join(temp.Noise.Explain(), "\n"), "mean daily swing of adult horses 0.5 C")
}

// What lies ahead is shown before the answer: how far from the last value is no change, measured in the same way.
func TestNoiseAhead(t *testing.T) {
	v := visit(0)
	n, last, at, ok := compare.NoiseAhead(theJudge(t), v, exam.Key{Step: "heart.rate"}, notation.PerMinute, heartVisits(0.5, 36, 40, 38, 42))
	require.True(t, ok)
	assert.InDelta(t, 36, last, 0)
	assert.Equal(t, newest().AddDate(0, -1, 0), at)
	assert.InDelta(t, changeOf(t, counted(48, 0.5), heartVisits(0.5, 36, 40, 38, 42)).Noise.Limit, n.Limit, 1e-12)
	_, _, _, ok = compare.NoiseAhead(theJudge(t), v, exam.Key{Step: "heart.rate"}, notation.PerMinute, nil)
	assert.False(t, ok)
}

// A weight by eye is marked in the table as everywhere, and what a guess can be off by makes its change noise.
func TestAWeightByEyeIsMarked(t *testing.T) {
	guess := number("weight.body", 500, notation.Kilograms)
	guess.Value.Weight = &exam.Weight{Method: exam.WeightEye, LowKg: 454, HighKg: 714}
	scale := number("weight.body", 560, notation.Kilograms)
	scale.Value.Weight = &exam.Weight{Method: exam.WeightScale, LowKg: 554, HighKg: 566}
	r := visits(t, visit(0, guess), visit(1, scale)).Rows[0]
	assert.Equal(t, "500 by eye", r.Cells[0].Text)
	assert.Equal(t, "560", r.Cells[1].Text)
	assert.Equal(t, "500 kg by eye", guess.Value.Show(exam.Step{}))
	assert.Equal(t, compare.WithinNoise, r.Change.Verdict)
	assert.Contains(t, r.Change.Means, "weighed another way then (scale)")
}
