package tap

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The golden vectors were worked out three ways before this code was written: R 4.2.2 (lm, arima, qt), explicit
// matrices, and gonum 0.17.0 for slope and t.
func goldenG1() []float64 {
	return []float64{0, 1.523, 2.981, 4.530, 5.988, 7.512, 9.041, 10.470, 12.013, 13.489, 15.021}
}

func goldenG2() []float64 {
	return []float64{0, 1.412, 2.934, 4.501, 6.133, 7.520, 8.988, 10.402, 12.007, 13.671, 15.102, 16.590}
}

func goldenG3() []float64 {
	return []float64{0, 1.512, 3.020, 6.011, 7.498, 7.640, 9.013, 10.521, 12.004, 13.488, 15.010}
}

func evaluated(t testing.TB, times []float64, o Options) Result {
	t.Helper()
	r, err := Evaluate(times, o)
	require.NoError(t, err)
	return r
}

func TestGoldenG1G2(t *testing.T) {
	for _, c := range []struct {
		name                                 string
		taps                                 []float64
		period, rate, line, median, s, q     float64
		half, steady, gls, glsA, glsRSS, lgV float64
	}{
		{
			"G1", goldenG1(), 1.5021, 39.944078, 1.499981818, 1.5235, 0.042584426, 2.262157,
			0.256169, 0.810079, 1.500665120, 28.732582, 0.011035444, -1.359902001,
		},
		{
			"G2", goldenG2(), 1.508181818, 39.783002, 1.512811189, 1.488, 0.096653834, 2.228139,
			0.516431, 1.712809, 1.512374749, 32.065421, 0.102163771, -1.514136023,
		},
	} {
		r := evaluated(t, c.taps, Options{})
		require.True(t, r.HasRate && r.HasHalfWidth, c.name)
		n := float64(r.Intervals)
		assert.InDelta(t, c.period, (r.LastS-r.FirstS)/n, 1e-9, c.name)
		assert.InDelta(t, c.rate, r.Rate, 1e-6, c.name)
		assert.InDelta(t, c.half, r.HalfWidth, 1e-6, c.name)
		assert.InDelta(t, c.q, quantileT975(r.Intervals-1), 1e-6, c.name)
		assert.Empty(t, r.Questions, c.name)
		assert.Empty(t, r.Removed, c.name)
		// The estimators that are not used for the headline, so that the simulation compares with the real thing.
		s := stat.StdDev(r.Strip, nil)
		assert.InDelta(t, c.s, s, 1e-6, c.name)
		assert.InDelta(t, c.steady, steadyHalf(r.Strip), 1e-6, c.name)
		assert.InDelta(t, c.line, lineFit(c.taps), 1e-6, c.name)
		assert.InDelta(t, c.median, median(append([]float64(nil), r.Strip...)), 1e-6, c.name)
		g := gls(r.Strip, 0.3)
		assert.InDelta(t, c.gls, g.period, 1e-6, c.name)
		assert.InDelta(t, c.glsA, g.a, 1e-6, c.name)
		assert.InDelta(t, c.glsRSS, g.rss, 1e-6, c.name)
		assert.InDelta(t, c.lgV, g.logDet, 1e-6, c.name)
		k := make([]float64, len(c.taps))
		for i := range k {
			k[i] = float64(i)
		}
		_, slope := stat.LinearRegression(k, c.taps, nil, false)
		assert.InDelta(t, slope, lineFit(c.taps), 1e-12, c.name)
	}
}

func TestGoldenG3(t *testing.T) {
	r := evaluated(t, goldenG3(), Options{})
	require.Len(t, r.Removed, 1)
	assert.Equal(t, 6, r.Removed[0].Tap)
	assert.InDelta(t, 7.640, r.Removed[0].AtS, 0)
	assert.Equal(t, 1, r.Held)
	require.Len(t, r.Questions, 1)
	q := r.Questions[0]
	assert.Equal(t, LongGap, q.Kind)
	assert.Equal(t, 3, q.AfterTap)
	assert.Equal(t, 2, q.Beats)
	assert.InDelta(t, 2.991, q.LengthS, 1e-9)
	assert.InDelta(t, 39.973351, q.RateIfMissed, 1e-6)
	assert.InDelta(t, 60*9/15.010, q.RateIfPause, 1e-9)
	assert.InDelta(t, q.RateIfPause, r.Rate, 0, "never repaired by itself")
	assert.Equal(t, 1, r.Open)

	missed := evaluated(t, goldenG3(), Options{}.Answered(3, TapMissed))
	assert.InDelta(t, 39.973351, missed.Rate, 1e-6)
	assert.Zero(t, missed.Open)
	assert.Zero(t, missed.Pauses)
	assert.Less(t, missed.HalfWidth, r.HalfWidth)
	pause := evaluated(t, goldenG3(), Options{}.Answered(3, RealPause))
	assert.InDelta(t, r.Rate, pause.Rate, 0)
	assert.Equal(t, 1, pause.Pauses)
	all := evaluated(t, goldenG3(), Options{Rest: TapMissed})
	assert.InDelta(t, missed.Rate, all.Rate, 0)
}

// Variances of the period by the closed forms, from the same three-way check.
func TestBounds(t *testing.T) {
	for _, c := range []struct {
		n                  int
		w, s               float64
		bound, first, line float64
	}{
		{10, 0, .04, 1.454545455e-5, 3.2e-5, 1.454545455e-5},
		{10, .0525, .04, 3.003311247e-4, 3.07625e-4, 3.202386364e-4},
		{20, .0525, .04, 1.437241189e-4, 1.458125e-4, 1.602938312e-4},
		{40, .0525, .08, 7.293111475e-5, 7.690625e-5, 8.188175087e-5},
	} {
		n := float64(c.n)
		assert.InEpsilon(t, c.bound, crb(c.n, c.w, c.s), 1e-8)
		assert.InEpsilon(t, c.first, c.w*c.w/n+2*c.s*c.s/(n*n), 1e-8)
		assert.InEpsilon(t, c.line, 12*c.s*c.s/(n*(n+1)*(n+2))+c.w*c.w*1.2*(n*n+2*n+2)/(n*(n+1)*(n+2)), 1e-8)
	}
}

func TestQuantileAgainstGonum(t *testing.T) {
	for df := 1; df <= 500; df++ {
		want := distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Quantile(0.975)
		assert.InDelta(t, want, quantileT975(df), 1e-9, "df %d", df)
	}
	assert.InDelta(t, z975, quantileT975(1e9), 1e-8)
}

func TestFencePost(t *testing.T) {
	r := evaluated(t, []float64{10, 11.5, 13, 14.5, 16}, Options{})
	assert.InDelta(t, 40, r.Rate, 1e-9)
	two := evaluated(t, []float64{1, 2.5}, Options{})
	assert.True(t, two.HasRate)
	assert.InDelta(t, 40, two.Rate, 1e-9)
	assert.False(t, two.HasHalfWidth)
	one := evaluated(t, []float64{1}, Options{})
	assert.False(t, one.HasRate)
	assert.Equal(t, TooFew, one.Evenness)
	none := evaluated(t, nil, Options{})
	assert.False(t, none.HasRate)
	lead := evaluated(t, []float64{0, 1, 2, 3.5, 5}, Options{LeadIn: 2})
	assert.InDelta(t, 40, lead.Rate, 1e-9)
	assert.Equal(t, 2, lead.LeadIn)
	assert.Equal(t, 3, lead.Used)
}
