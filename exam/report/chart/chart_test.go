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
			p := compare.Point{At: at, Value: rapid.Float64Range(-1e6, 1e6).Draw(t, "value")}
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
	chart.Draw(c, 0, 0, chart.Series{Title: "Heart rate", Unit: notation.PerMinute, Points: []compare.Point{
		{At: at, Value: low, Low: &low, High: &high}, {At: at.AddDate(0, 1, 0), Value: high, Level: ranges.LevelTell, Low: &low, High: &high},
	}})
	require.Len(t, c.rects, 2)
	assert.InDelta(t, c.points[0][1], c.rects[0][1]+c.rects[0][3], 1e-9, "the lower end is at the value of the lower end")
	assert.InDelta(t, c.points[1][1], c.rects[0][1], 1e-9)
	assert.Contains(t, c.texts, "!")
	assert.Contains(t, c.texts, "Heart rate, /min")
	assert.Contains(t, c.texts, "2 Apr 2026")
}

func TestTheSVGIsWellFormed(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(chart.SVG(chart.Series{Title: `<b>"&`, Points: []compare.Point{{Value: 1}}})))
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
