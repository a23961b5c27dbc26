package trend

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"loosebox/exam/report/chart"
)

func TestScaleKeepsValuesInOrderAndInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-1000, 1000), 1, 30).Draw(t, "values")
		rows := rapid.IntRange(2, 40).Draw(t, "rows")
		s := newScale(values, rows)
		for _, v := range values {
			if v < s.low || v > s.high {
				t.Fatalf("%v lies outside %v to %v", v, s.low, s.high)
			}
			for _, w := range values {
				if v > w && s.row(v) > s.row(w) {
					t.Fatalf("%v is drawn below %v", v, w)
				}
			}
		}
		for row, label := range s.labels() {
			if row < 0 || row >= rows || label == "" {
				t.Fatalf("label %q at row %d of %d", label, row, rows)
			}
		}
	})
}

func TestTicksAreOneTwoOrFiveTimesAPowerOfTen(t *testing.T) {
	for least, want := range map[float64]float64{0.03: 0.05, 0.1: 0.1, 0.11: 0.2, 1: 1, 3: 5, 6: 10, 70: 100} {
		assert.InEpsilon(t, want, chart.Tick(least), 1e-9, "%v", least)
	}
	s := newScale([]float64{40, 40, 40}, 10)
	assert.Less(t, s.low, 40.0)
	assert.Greater(t, s.high, 40.0)
	assert.False(t, math.IsNaN(newScale(nil, 10).tick))
}
