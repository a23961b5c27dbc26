package chart_test

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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
	assert.Equal(t, "_\"", chart.Spark(theme.New(theme.Plain, true), []float64{36, 64}, 8))
}

func columns(x chart.Times, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = x.Column(i)
	}
	return out
}

func day(n int) time.Time { return time.Date(2026, 1, 1+n, 9, 0, 0, 0, time.UTC) }

func TestColumnsFollowTime(t *testing.T) {
	assert.Equal(t, []int{0, 10, 100}, columns(chart.NewTimes([]time.Time{day(0), day(10), day(100)}, 101), 3))
	assert.Equal(t, []int{50}, columns(chart.NewTimes([]time.Time{day(0)}, 101), 1), "a single visit stands in the middle")
	assert.Equal(t, []int{0, 2, 100}, columns(chart.NewTimes([]time.Time{day(0), day(0), day(300)}, 101), 3), "two of one day stand apart")
}

// TestAWeekAndTwoYearsAreBothReadable: a long gap is broken, so that two visits of one week stand apart beside it.
func TestAWeekAndTwoYearsAreBothReadable(t *testing.T) {
	at := []time.Time{day(-740), day(-736), day(0), day(60), day(120)}
	x := chart.NewTimes(at, 68)
	cols := columns(x, len(at))
	for i := range cols[1:] {
		assert.Greater(t, cols[i+1], cols[i]+1, "%v", cols)
	}
	assert.Less(t, cols[2], 25, "two years take little of the width: %v", cols)
	rule, days := x.Axis(theme.New(theme.Plain, false), 4)
	assert.Equal(t, 68, ansi.StringWidth(rule))
	assert.Equal(t, 1, strings.Count(rule, "//"), "the two years alone are broken")
	assert.Equal(t, 4, strings.Count(rule, "┬"))
	assert.Equal(t, 1, strings.Count(rule, "^"))
	assert.Contains(t, days, at[0].Format("2 Jan 2006"))
	assert.Contains(t, days, at[4].Format("2 Jan 2006"))
}

// TestTimesKeepTheirOrder: any moments on any width.
func TestTimesKeepTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "moments")
		at := make([]time.Time, n)
		now := day(0)
		for i := range at {
			now = now.Add(time.Duration(rapid.IntRange(0, 1000).Draw(t, "hours")) * time.Hour * time.Duration(rapid.IntRange(1, 30).Draw(t, "times")))
			at[i] = now
		}
		width := rapid.IntRange(1, 200).Draw(t, "width")
		x := chart.NewTimes(at, width)
		for i, col := range columns(x, n) {
			if col < 0 || col >= width || i > 0 && col < x.Column(i-1) || i > 0 && n <= width && col == x.Column(i-1) {
				t.Fatalf("column %d of %v in %d", i, columns(x, n), width)
			}
		}
		rule, days := x.Axis(theme.New(theme.Plain, true), n-1)
		if ansi.StringWidth(rule) != width || ansi.StringWidth(days) > width {
			t.Fatalf("%q and %q are not %d wide", rule, days, width)
		}
	})
}

func TestALineIsDrawnInDots(t *testing.T) {
	c := chart.NewCanvas(theme.New(theme.Plain, false), 3, 1)
	c.Line(0, 0, 5, 0)
	assert.Equal(t, []string{"⠉⠉⠉"}, c.Rows())
	c.Put(1, 0, "?", chart.InkOf(ranges.LevelRecheck))
	assert.Equal(t, []string{"⠉?⠉"}, c.Rows())
	assert.False(t, c.Free(0, 0, 1))
	c.Put(5, 0, "outside", chart.InkText)
	c.Line(-3, -3, 40, 40)
	a := chart.NewCanvas(theme.New(theme.Plain, true), 3, 1)
	a.Line(0, 3, 5, 3)
	assert.Equal(t, []string{"..."}, a.Rows())
}
