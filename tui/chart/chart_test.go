package chart_test

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
	"loosebox/tui/chart"
	"loosebox/tui/theme"
)

// TestAValueLiesInTheStretchOfItsLevel: of every built-in row, at every limit, just before and just behind it.
func TestAValueLiesInTheStretchOfItsLevel(t *testing.T) {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	for _, ascii := range []bool{false, true} {
		th := theme.New(theme.Plain, ascii)
		for _, row := range table.Rows() {
			zones := row.Zones()
			for _, width := range []int{36, 55, 90} {
				line, limits := chart.Scale(th, zones, nil, width)
				if line == "" {
					assert.Greater(t, len(zones)*5, 25, "%s of %s at %d", row.Measure, row.Class, width)
					continue
				}
				assert.Equal(t, width, ansi.StringWidth(line))
				assert.LessOrEqual(t, ansi.StringWidth(limits), width)
				want := 0
				for _, z := range zones[1:] {
					at := strings.Index(limits[want:], z.Text)
					require.GreaterOrEqual(t, at, 0, "%q holds the limit %s of %s of %s", limits, z.Text, row.Measure, row.Class)
					want += at + len(z.Text)
				}
				for _, z := range zones[1:] {
					for _, v := range []float64{z.From - 0.1, z.From + 0.1, z.From - 1e6, z.From + 1e6} {
						marked, _ := chart.Scale(th, zones, &v, width)
						col := strings.Index(strip(marked, th.Sign.Block), "@")
						require.GreaterOrEqual(t, col, 0, "%v stands on %q", v, marked)
						in := 0
						for strings.Count(strip(line, th.Sign.Edge)[:col+1], "@") > in {
							in++
						}
						assert.Equal(t, zoneOf(zones, v), in, "%v of %s of %s in %q", v, row.Measure, row.Class, marked)
					}
				}
			}
		}
	}
}

// strip makes a drawn line one byte a column, with @ for a sign.
func strip(line, sign string) string {
	return strings.Map(func(r rune) rune {
		if string(r) == sign {
			return '@'
		}
		return '.'
	}, line)
}

func zoneOf(zones []ranges.Zone, v float64) int {
	in := 0
	for i, z := range zones {
		if i > 0 && v >= z.From {
			in = i
		}
	}
	return in
}

func TestSparkIsAsHighAsItsValues(t *testing.T) {
	th := theme.New(theme.Plain, false)
	assert.Equal(t, "▁█", chart.Spark(th, []float64{36, 64}, 8))
	assert.Equal(t, "▁▅█", chart.Spark(th, []float64{36, 50, 64}, 8))
	assert.Equal(t, "▅▅▅", chart.Spark(th, []float64{36, 36, 36}, 8))
	assert.Equal(t, "▁█", chart.Spark(th, []float64{1, 36, 64}, 2), "the newest")
	assert.Empty(t, chart.Spark(th, []float64{36}, 8), "one value is no line")
	assert.Empty(t, chart.Spark(th, nil, 0))
	assert.Equal(t, "_^", chart.Spark(theme.New(theme.Plain, true), []float64{36, 64}, 8))
}
