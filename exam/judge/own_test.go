package judge_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// middle is the median by gonum: the mean of the two empirical quantiles round the half.
func middle(values []float64) float64 {
	x := slices.Clone(values)
	slices.Sort(x)
	n := float64(len(x))
	low := stat.Quantile(0.5, stat.Empirical, x, nil)
	high := stat.Quantile(math.Nextafter(0.5+0.25/n, 1), stat.Empirical, x, nil)
	return (low + high) / 2
}

func robustSD(values []float64) float64 {
	mid := middle(values)
	away := make([]float64, len(values))
	for i, v := range values {
		away[i] = math.Abs(v - mid)
	}
	return 1.4826 * middle(away)
}

// correction is b(n) of Croux and Rousseeuw 1992, from memory; TestFewVisits finds it by simulation.
func correction(n int) float64 {
	if n < 10 {
		return map[int]float64{4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}[n]
	}
	return float64(n) / (float64(n) - 0.8)
}

// With the correction the robust spread of normal readings is right on average, whatever their number; without it four
// visits would make an own range a quarter too narrow. Monte-Carlo error under 0.5 %.
func TestFewVisits(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{4, 5, 6, 7, 8, 9, 12, 20} {
		sum := 0.0
		const runs = 20000
		for range runs {
			values := make([]float64, n)
			for i := range values {
				values[i] = rng.NormFloat64()
			}
			sum += robustSD(values)
		}
		assert.InDelta(t, 1, correction(n)*sum/runs, 0.015, "n = %d", n)
	}
}

func heartPast(t testing.TB, values ...float64) []exam.Visit {
	t.Helper()
	return past(horseOf(t, ranges.AdultLight), "heart.rate", notation.PerMinute, values...)
}

// The values are chosen so that no limit of the class cuts the range.
func TestOwnRangeIsMedianAndMAD(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(34, 38), 4, 12).Draw(r, "values")
		got, ok := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, heartPast(t, values...))
		require.True(t, ok)
		half := math.Max(4, 2*correction(len(values))*robustSD(values))
		assert.InDelta(t, middle(values), got.Median, 1e-9)
		assert.InDelta(t, middle(values)+half, got.High, 1e-9)
		assert.InDelta(t, math.Max(0, middle(values)-half), got.Low, 1e-9)
		assert.Equal(t, len(values), got.Visits)
		assert.InDelta(t, values[0], got.LastValue, 0)
	})
}

// Whatever one visit says, the bounds stay within what the other visits allow: the median among them, the half-width at
// most twice 1.363 times 1.4826 times their span (1.363 is the correction of four visits, the largest).
func TestOneOddVisitCannotMoveTheOwnRange(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		others := rapid.SliceOfN(rapid.Float64Range(34, 38), 4, 12).Draw(r, "others")
		odd := rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 200), rapid.Just(math.MaxFloat64)).Draw(r, "odd")
		at := rapid.IntRange(0, len(others)).Draw(r, "at")
		got, ok := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, heartPast(t, slices.Insert(slices.Clone(others), at, odd)...))
		require.True(t, ok)
		low, high := slices.Min(others), slices.Max(others)
		reach := math.Max(4, 2*1.363*1.4826*(high-low))
		assert.GreaterOrEqual(t, got.Median, low-1e-9)
		assert.LessOrEqual(t, got.Median, high+1e-9)
		assert.GreaterOrEqual(t, got.Low, math.Max(0, low-reach)-1e-9)
		assert.LessOrEqual(t, got.High, high+reach+1e-9)
	})
}

// Five visits at 36 to 40, and one at 120, which is no visit in health.
func TestOneColicDoesNotWidenTheOwnRange(t *testing.T) {
	calm, _ := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, heartPast(t, 36, 37, 38, 39, 40))
	odd, _ := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, heartPast(t, 36, 37, 38, 39, 40, 120))
	assert.InDelta(t, calm.Median, odd.Median, 1e-9)
	assert.InDelta(t, calm.High, odd.High, 1e-9)
}

func TestEqualReadingsLeaveARangeOfTheInstrument(t *testing.T) {
	got, ok := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, heartPast(t, 36, 36, 36, 36))
	require.True(t, ok)
	assert.InDelta(t, 32, got.Low, 1e-9)
	assert.InDelta(t, 40, got.High, 1e-9)
	h := horseOf(t, ranges.AdultLight)
	temp, ok := onlyNumbers(t).Own("temp.rectal", exam.NoSite, notation.Celsius, past(h, "temp.rectal", notation.Celsius, 37.8, 37.8, 37.8, 37.8))
	require.True(t, ok)
	assert.InDelta(t, 37.3, temp.Low, 1e-9) // CIRC: mean daily swing 0.5 C
	inF, ok := onlyNumbers(t).Own("temp.rectal", exam.NoSite, notation.Fahrenheit, past(h, "temp.rectal", notation.Celsius, 37.8, 37.8, 37.8, 37.8))
	require.True(t, ok)
	assert.InDelta(t, 37.3*1.8+32, inF.Low, 1e-9)
}

func TestWhichVisitsCount(t *testing.T) {
	own := func(vs []exam.Visit) (exam.OwnRange, bool) {
		return onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, vs)
	}
	_, ok := own(heartPast(t, 36, 37, 38))
	assert.False(t, ok, "three visits are too few")
	_, ok = own(nil)
	assert.False(t, ok)

	five := func() []exam.Visit { return heartPast(t, 36, 37, 38, 39, 40) }
	open := five()
	open[4].ClosedAt = nil
	got, ok := own(open)
	require.True(t, ok)
	assert.Equal(t, 4, got.Visits, "an open visit does not count")
	open[4].Source = "old.csv"
	got, _ = own(open)
	assert.Equal(t, 5, got.Visits, "an imported one does")
	ill := five()
	ill[4].Findings[0].Value.Number.Value = 90
	got, _ = own(ill)
	assert.Equal(t, 4, got.Visits, "a visit out of health does not")

	for _, s := range exam.States() {
		stirred := five()
		stirred[4].Context.States = []exam.State{s}
		got, ok = own(stirred)
		require.True(t, ok)
		want := 4
		if s == exam.StateRest {
			want = 5
		}
		assert.Equal(t, want, got.Visits, s)
	}
	undone := five()
	undone[4].Findings[0].NotDone = exam.ReasonRefused
	got, _ = own(undone)
	assert.Equal(t, 4, got.Visits)
	nan := five()
	nan[4].Findings[0].Value.Number.Value = math.NaN()
	got, _ = own(nan)
	assert.Equal(t, 4, got.Visits)
}

// A foal's rates are no past for the weanling it became: heart rate falls after day 7 (TBFOAL).
func TestAnotherClassIsNoPast(t *testing.T) {
	h := horseOf(t, ranges.Weanling)
	visits := past(h, "heart.rate", notation.PerMinute, 50, 52, 80, 82, 84, 86, 88)
	_, ok := onlyNumbers(t).Own("heart.rate", exam.NoSite, notation.PerMinute, visits)
	assert.False(t, ok, "two visits as a weanling, five as a foal")
}

func TestWeightsOfOtherMethodsDoNotCount(t *testing.T) {
	h := horseOf(t, ranges.AdultLight)
	visits := past(h, "weight.body", notation.Kilograms, 500, 502, 498, 501, 560, 561)
	for i := range visits {
		method := exam.WeightScale
		if i > 3 {
			method = exam.WeightTape
		}
		visits[i].Findings[0].Value.Weight = &exam.Weight{Method: method}
	}
	got, ok := onlyNumbers(t).Own("weight.body", exam.NoSite, notation.Kilograms, visits)
	require.True(t, ok)
	assert.Equal(t, 4, got.Visits)
	assert.InDelta(t, 500.5, got.Median, 1e-9)
}

// A guess, or another equation, is no measure of change: it is not set beside weights that were found in another way.
func TestAWeightIsSetBesideThoseFoundInItsWay(t *testing.T) {
	j := onlyNumbers(t)
	h := horseOf(t, ranges.AdultLight)
	visits := past(h, "weight.body", notation.Kilograms, 500, 502, 498, 501)
	for i := range visits {
		visits[i].Findings[0].Value.Weight = &exam.Weight{Method: exam.WeightMeasured, Equation: "girth and length, horse"}
	}
	why := func(w exam.Weight) string {
		f := measured("weight.body", 430, notation.Kilograms)
		f.Value.Weight = &w
		r, _ := j.Finding(adult(t, f), f, visits)
		return r.Why
	}
	assert.Contains(t, why(exam.Weight{Method: exam.WeightMeasured, Equation: "girth and length, horse"}), "far below this horse's range")
	assert.NotContains(t, why(exam.Weight{Method: exam.WeightMeasured, Equation: "girth alone, horse"}), "its own range")
	assert.NotContains(t, why(exam.Weight{Method: exam.WeightEye}), "its own range")
}

// The own range stands beside the published one, never instead of it.
func TestOwnRangeBesideThePublished(t *testing.T) {
	j := onlyNumbers(t)
	low := heartPast(t, 30, 30, 31, 30, 29)
	f := measured("heart.rate", 43, notation.PerMinute)
	r, ok := j.Finding(adult(t, f), f, low)
	require.True(t, ok)
	assert.Equal(t, ranges.LevelNote, r.Level, "usual, but far above its own")
	assert.Contains(t, r.Why, "far above this horse's range of 26-34")
	assert.Contains(t, r.Why, "within the usual 28-44 /min")
	require.NotNil(t, r.Own)
	assert.InDelta(t, 44, *r.High, 0)

	near := measured("heart.rate", 35, notation.PerMinute)
	r, _ = j.Finding(adult(t, near), near, low)
	assert.Equal(t, ranges.LevelUsual, r.Level, "outside its own, but not far")

	high := measured("heart.rate", 52, notation.PerMinute)
	r, _ = j.Finding(adult(t, high), high, heartPast(t, 50, 51, 52, 53))
	assert.Equal(t, ranges.LevelRecheck, r.Level, "the level stays")
	assert.NotContains(t, r.Why, "its own range", "earlier visits at recheck are no visits in health")

	weight := measured("weight.body", 400, notation.Kilograms)
	h := horseOf(t, ranges.AdultLight)
	r, ok = j.Finding(adult(t, weight), weight, past(h, "weight.body", notation.Kilograms, 500, 502, 498, 500))
	require.True(t, ok)
	assert.Equal(t, ranges.LevelNote, r.Level)
	assert.Contains(t, r.Why, "far below this horse's range")
	_, ok = j.Finding(adult(t, weight), weight, nil)
	assert.False(t, ok)
}

// A horse at 101.7 F does not read "within its own range" because it was feverish before, and its own range ends where
// its class is looked at again (38.6 C, MSU).
func TestFeverIsNoPartOfTheOwnRange(t *testing.T) {
	j := onlyNumbers(t)
	h := horseOf(t, ranges.AdultLight)
	feverish := past(h, "temp.rectal", notation.Fahrenheit, 101.7, 101.9, 102.0, 101.6, 101.8)
	_, ok := j.Own("temp.rectal", exam.NoSite, notation.Fahrenheit, feverish)
	assert.False(t, ok)
	f := measured("temp.rectal", 101.7, notation.Fahrenheit)
	r, ok := j.Finding(adult(t, f), f, feverish)
	require.True(t, ok)
	assert.NotContains(t, r.Why, "its own range")
	assert.Nil(t, r.Own)

	wide := past(h, "temp.rectal", notation.Celsius, 37.2, 38.5, 37.4, 38.4, 37.9)
	own, ok := j.Own("temp.rectal", exam.NoSite, notation.Celsius, wide)
	require.True(t, ok)
	assert.LessOrEqual(t, own.High, 38.6)
	assert.GreaterOrEqual(t, own.Low, 36.5)
}

func TestMedicineStaysOutOfTheOwnRange(t *testing.T) {
	j := onlyNumbers(t)
	visits := func(step exam.StepID, u notation.Unit, m exam.Medicine, x float64) int {
		list := past(horseOf(t, ranges.AdultLight), step, u, x, x, x, x, x)
		list[2].Context.Medicines = []exam.Medicine{m}
		own, ok := j.Own(step, exam.NoSite, u, list)
		require.True(t, ok)
		return own.Visits
	}
	for _, c := range []struct {
		step exam.StepID
		unit notation.Unit
		m    exam.Medicine
		x    float64
		want int
	}{
		{"heart.rate", notation.PerMinute, exam.ToCalm, 36, 4},
		{"heart.rate", notation.PerMinute, exam.ForPain, 36, 4},
		{"temp.rectal", notation.Celsius, exam.ForPain, 37.8, 4},
		{"breath.rate", notation.PerMinute, exam.ForPain, 12, 5},
		{"breath.rate", notation.PerMinute, exam.ToCalm, 12, 4},
		{"weight.body", notation.Kilograms, exam.ToCalm, 500, 5},
		{"heart.rate", notation.PerMinute, exam.NoMedicine, 36, 5},
		{"heart.rate", notation.PerMinute, exam.OtherMedicine, 36, 5},
	} {
		assert.Equal(t, c.want, visits(c.step, c.unit, c.m, c.x), "%s %s", c.step, c.m)
	}
}
