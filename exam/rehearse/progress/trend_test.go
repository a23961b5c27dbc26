package progress

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

func times(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i)
	}
	return x
}

// Without ties the score is Kendall's tau times the pairs, as gonum has it.
func TestScoreAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for range 200 {
		v := make([]float64, 2+rng.IntN(12))
		for i := range v {
			v[i] = rng.Float64()
		}
		n := len(v)
		assert.InDelta(t, stat.Kendall(times(n), v, nil), float64(score(v))/float64(n*(n-1)/2), 1e-12)
	}
}

// Upper tails of the score of n different numbers: Kendall, Rank Correlation Methods, 4th ed. 1970, appendix table 1
// (figures from memory; the rows up to seven are counted out by chance itself over every order).
func TestChanceAgainstTheTable(t *testing.T) {
	for _, c := range []struct {
		n, s int
		p    float64
	}{
		{4, 4, 0.167},
		{4, 6, 0.042},
		{5, 6, 0.117},
		{5, 8, 0.042},
		{5, 10, 0.0083},
		{6, 9, 0.068},
		{6, 11, 0.028},
		{7, 11, 0.068},
		{7, 13, 0.035},
		{7, 15, 0.015},
		{8, 14, 0.054},
		{8, 16, 0.031},
		{9, 16, 0.060},
		{9, 18, 0.038},
		{10, 19, 0.054},
		{10, 21, 0.036},
	} {
		v := withScore(t, c.n, c.s)
		near := 0.0006 // the table's rounding
		if c.n > exactUpTo {
			near = 0.004 // the normal law
		}
		assert.InDelta(t, c.p, chance(v), near, "n %d, score %d", c.n, c.s)
		for i := range v {
			v[i] = -v[i]
		}
		assert.InDelta(t, c.p, chance(v), near, "falling")
	}
}

// withScore is 0..n-1 in an order of a wanted score, made by turning round neighbours.
func withScore(t *testing.T, n, s int) []float64 {
	t.Helper()
	v := times(n)
	for score(v) > s {
		turned := false
		for i := 0; i+1 < n && score(v) > s; i++ {
			if v[i] < v[i+1] {
				v[i], v[i+1] = v[i+1], v[i]
				turned = true
			}
		}
		require.True(t, turned)
	}
	require.Equal(t, s, score(v))
	return v
}

// Groups of equal numbers: the variance of the score over every order of a row is the formula's.
func TestSpreadWithTies(t *testing.T) {
	for _, v := range [][]float64{{1, 2, 3, 4, 5, 6}, {0, 0, 0, 1, 2, 2}, {3, 3, 3, 3}, {0, 1, 0, 1, 0, 1, 0}, {2, 2, 1, 1, 1, 0, 0}} {
		sum, n := 0.0, 0.0
		orders(append([]float64{}, v...), 0, func(o []float64) {
			s := float64(score(o))
			sum, n = sum+s*s, n+1
		})
		assert.InDelta(t, sum/n, spread(v), 1e-9, "%v", v)
	}
}

func TestWhatATrendMaySay(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   Direction
		slope  float64
	}{
		{nil, TooFew, math.NaN()},
		{[]float64{9}, TooFew, math.NaN()},
		{[]float64{9, 5, 1}, TooFew, -4},
		{[]float64{9, 7, 4, 1}, Better, -17.0 / 6},
		{[]float64{1, 4, 7, 9}, Worse, 17.0 / 6},
		{[]float64{9, 7, 8, 1}, NoClear, -7.0 / 3},
		{[]float64{0, 0, 0, 0, 0, 0}, NoClear, 0},
		{[]float64{5, 5, 3, 2, 2, 0}, Better, -1},
		{[]float64{40, 20, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, Worse, 1}, // only the newest ten count
	} {
		got := TrendOf(c.values)
		assert.Equal(t, c.want, got.Direction, "%v", c.values)
		if math.IsNaN(c.slope) {
			assert.Nil(t, got.Slope)
			assert.Nil(t, got.P)
			continue
		}
		assert.InDelta(t, c.slope, *got.Slope, 1e-9, "%v", c.values)
	}
}

// Numbers without a trend are called rising or falling in at most one row of ten, both sides together.
func TestFalseAlarmsAreRare(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 2))
	for n := 4; n <= Lately; n++ {
		said := 0
		for range 1000 {
			v := make([]float64, n)
			for i := range v {
				v[i] = float64(rng.IntN(6)) // ties are usual in counts of mistakes
			}
			if d := TrendOf(v).Direction; d == Better || d == Worse {
				said++
			}
		}
		assert.Less(t, said, 120, "n %d", n)
	}
}

func TestTrendOfAnything(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 1e6), 0, 14).Draw(r, "values")
		up := TrendOf(v)
		down := make([]float64, len(v))
		for i := range v {
			down[i] = -v[i]
		}
		other := TrendOf(down)
		turned := map[Direction]Direction{Better: Worse, Worse: Better, NoClear: NoClear, TooFew: TooFew}
		require.Equal(r, turned[up.Direction], other.Direction)
		if up.P != nil {
			require.InDelta(r, *up.P, *other.P, 1e-12)
			require.LessOrEqual(r, *up.P, 1.0)
			require.Positive(r, *up.P)
		}
	})
}
