package tap

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// 30 taps give a person's scatter to 1/√(2·30) = 13 %.
func TestScatterFindsTheScatter(t *testing.T) {
	g, off2, mean := newSim(30, 1), 0.0, 0.0
	for range runsACell {
		beats := every(32, 1.5)[:32]
		sigma, bias, n, err := Scatter(g.taps(beats, 0.04), beats)
		require.NoError(t, err)
		require.Equal(t, 30, n)
		assert.InDelta(t, -0.03, bias, 0.05)
		off2 += math.Pow(sigma/0.04-1, 2) / float64(runsACell)
		mean += sigma / float64(runsACell)
	}
	t.Logf("mean %.4f s, relative error %.3f", mean, sqrt(off2))
	assert.InDelta(t, 0.04, mean, 0.001)
	assert.InDelta(t, 0.13, sqrt(off2), 0.02)
}

func TestScatterPairs(t *testing.T) {
	beats := every(15, 1.5)
	var taps []float64
	for i, b := range beats {
		switch i {
		case 5: // missed
		case 7:
			taps = append(taps, b+0.02, b+0.3) // twice: the nearer stays
		default:
			taps = append(taps, b+0.02)
		}
	}
	sigma, bias, n, err := Scatter(taps, beats)
	require.NoError(t, err)
	assert.Equal(t, 13, n)
	assert.InDelta(t, 0, sigma, 1e-9)
	assert.InDelta(t, 0.02, bias, 1e-9)
}

func TestScatterRefuses(t *testing.T) {
	_, _, n, err := Scatter(every(8, 1.5), every(8, 1.5))
	require.ErrorContains(t, err, "at least 10")
	assert.Equal(t, 7, n)
	_, _, _, err = Scatter([]float64{0, math.NaN()}, every(20, 1.5))
	require.ErrorContains(t, err, "time 2 is not a number")
	_, _, _, err = Scatter([]float64{2, 1}, every(20, 1.5))
	require.ErrorContains(t, err, "is before")
	_, _, _, err = Scatter(nil, nil)
	require.Error(t, err)
	_, _, _, err = Scatter([]float64{1}, []float64{1})
	require.Error(t, err)
}
