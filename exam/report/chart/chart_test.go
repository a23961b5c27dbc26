package chart_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

// strokes notes where everything is drawn.
type strokes struct {
	places [][2]float64
	rects  [][4]float64
	points [][2]float64
	texts  []string
}

func (s *strokes) Rect(x, y, w, h float64, _ chart.Pen) {
	s.rects = append(s.rects, [4]float64{x, y, w, h})
	s.places = append(s.places, [2]float64{x, y}, [2]float64{x + w, y + h})
}

func (s *strokes) Polyline(points [][2]float64, _ chart.Pen) { s.places = append(s.places, points...) }

func (s *strokes) Circle(x, y, _ float64, _ bool, _ chart.Pen) {
	s.points = append(s.points, [2]float64{x, y})
	s.places = append(s.places, [2]float64{x, y})
}

func (s *strokes) Text(x, y, _ float64, _ chart.Anchor, text string) {
	s.texts = append(s.texts, text)
	s.places = append(s.places, [2]float64{x, y})
}

// Whatever the values, everything lies within the chart, a higher value is drawn higher and a later one further right.
func TestEverythingIsInsideAndInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
		var s chart.Series
		for range rapid.IntRange(1, 20).Draw(t, "visits") {
			at = at.Add(time.Duration(rapid.IntRange(0, 1e6).Draw(t, "later")) * time.Minute)
			p := compare.TrendPoint{At: at, Value: rapid.Float64Range(-1e6, 1e6).Draw(t, "value")}
			if rapid.Bool().Draw(t, "band") {
				low := rapid.Float64Range(-1e6, 1e6).Draw(t, "low")
				high := low + rapid.Float64Range(0, 1e5).Draw(t, "high")
				p.Low, p.High = &low, &high
			}
			s.Points = append(s.Points, p)
		}
		if rapid.Bool().Draw(t, "own") {
			s.Own = &exam.OwnRange{Low: -3, High: 12}
		}
		c := &strokes{}
		chart.Draw(c, 0, 0, s)
		for _, p := range c.places {
			assert.False(t, math.IsNaN(p[0]) || math.IsNaN(p[1]))
			assert.True(t, p[0] >= -1e-6 && p[0] <= chart.Width+1e-6 && p[1] >= -6 && p[1] <= chart.Height+1e-6, "%v", p)
		}
		require.Len(t, c.points, len(s.Points))
		for i := 1; i < len(s.Points); i++ {
			if s.Points[i].Value > s.Points[i-1].Value {
				assert.LessOrEqual(t, c.points[i][1], c.points[i-1][1])
			}
			assert.GreaterOrEqual(t, c.points[i][0], c.points[i-1][0])
		}
	})
}

func TestTheBandIsWhatIsUsual(t *testing.T) {
	low, high := 28.0, 44.0
	at := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	c := &strokes{}
	chart.Draw(c, 0, 0, chart.Series{Title: "Heart rate", Unit: notation.PerMinute, Points: []compare.TrendPoint{
		{At: at, Value: low, Low: &low, High: &high}, {At: at.AddDate(0, 1, 0), Value: high, Level: ranges.LevelTell, Low: &low, High: &high},
	}})
	require.Len(t, c.rects, 2)
	assert.InDelta(t, c.points[0][1], c.rects[0][1]+c.rects[0][3], 1e-9, "the lower end is at the value of the lower end")
	assert.InDelta(t, c.points[1][1], c.rects[0][1], 1e-9)
	assert.Contains(t, c.texts, "! 44")
	assert.Contains(t, c.texts, "Heart rate, /min")
	assert.Contains(t, c.texts, "2 Apr 2026")
}

func TestTheSVGIsWellFormed(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(chart.SVG(chart.Series{Title: `<b>"&`, Points: []compare.TrendPoint{{Value: 1}}})))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
}

// 1, 2 and 5 times a power of ten, as axes are commonly numbered (common practice).
func TestTicksAreRound(t *testing.T) {
	for least, want := range map[float64]float64{0.9: 1, 1: 1, 1.1: 2, 2.4: 5, 5.1: 10, 0.013: 0.02, 340: 500} {
		assert.InDelta(t, want, chart.Tick(least), want*1e-9)
	}
}

func drawn(days ...float64) *strokes {
	at := time.Date(2022, 3, 2, 8, 0, 0, 0, time.UTC)
	s := chart.Series{Title: "Heart rate", Unit: notation.PerMinute}
	for i, d := range days {
		s.Points = append(s.Points, compare.TrendPoint{At: at.Add(time.Duration(d * 24 * float64(time.Hour))), Value: 30 + float64(i)})
	}
	c := &strokes{}
	chart.Draw(c, 0, 0, s)
	return c
}

// Two visits in a week lie at both ends; the looks of an illness after four years have a panel of their own, at least a
// centimetre wide, in which each can be told from the next; evenly spread visits have one panel.
func TestVisitsInAWeekAndOverYears(t *testing.T) {
	c := drawn(0, 5)
	assert.Greater(t, c.points[1][0]-c.points[0][0], 150.0)
	c = drawn(0, 400, 800, 1200, 1460, 1460.25, 1460.5, 1461)
	require.Len(t, c.points, 8)
	for i := 1; i < 8; i++ {
		assert.Greater(t, c.points[i][0]-c.points[i-1][0], 6.0, "visit %d", i)
	}
	assert.Subset(t, c.texts, []string{"1 Mar", "08:00"})
	axes := func(c *strokes) int {
		n := 0
		for _, text := range c.texts {
			if strings.Contains(text, "2022") || strings.Contains(text, "2026") || strings.Contains(text, ":") {
				n++
			}
		}
		return n
	}
	assert.LessOrEqual(t, axes(drawn(0, 300, 600, 900, 1200)), 2)
}

// The value stands at the first, the last and the highest point; at most eight visits have each of theirs, none on another.
func TestValuesAreWritten(t *testing.T) {
	c := drawn(0, 200, 400, 600)
	for _, want := range []string{"30", "31", "32", "33"} {
		assert.Contains(t, c.texts, want)
	}
	var many []float64
	for i := range 30 {
		many = append(many, float64(i*100))
	}
	c = drawn(many...)
	assert.Contains(t, c.texts, "30")
	assert.Contains(t, c.texts, "59")
	assert.NotContains(t, c.texts, "47")
}

// The days below a narrow panel do not lie on each other.
func TestTheDaysOfAPanelHaveRoom(t *testing.T) {
	at := time.Date(2026, 11, 28, 20, 0, 0, 0, time.UTC)
	s := chart.Series{Title: "Heart rate", Unit: notation.PerMinute, Points: []compare.TrendPoint{{At: at.AddDate(-5, 0, 0), Value: 34}, {At: at.AddDate(-1, 0, 0), Value: 36}}}
	for i := range 4 {
		s.Points = append(s.Points, compare.TrendPoint{At: at.Add(time.Duration(i) * 12 * time.Hour), Value: 52})
	}
	c := &strokes{}
	chart.Draw(c, 0, 0, s)
	assert.Subset(t, c.texts, []string{"28 Nov", "30 Nov", "20:00", "08:00"})
	assert.NotContains(t, c.texts, "28 Nov 20:00")
}
