package score_test

import (
	"math"
	"strings"
	"testing"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// Whatever figures come in, nothing panics, no sum leaves its range and no line
// shows a number that is none.
func FuzzFigures(f *testing.F) {
	f.Add(38.5, 52.0, 20.0, 2.0, 60.0, 5)
	f.Add(math.NaN(), math.Inf(1), -1.0, math.Inf(-1), 0.0, -9)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64, n int) {
		check := func(r score.Result) {
			text := strings.Join(r.Lines(), "\n")
			for _, never := range []string{"NaN", "+Inf", "-Inf", "no number"} {
				if strings.Contains(text, never) {
					t.Fatal(text)
				}
			}
		}
		h := score.HydrationBand(score.HydrationSigns{Class: ranges.AdultLight, RefillS: &a, Heart: &b, TentS: &c, Moisture: "dry"})
		check(h.Result)
		if h.Band < score.NoLoss || h.Band > score.TenOrMore {
			t.Fatal(h.Band)
		}
		_ = h.Band.Litres(d)
		s, err := score.Bands(score.Vitals{Class: ranges.AdultLight, Heart: &a, Breaths: &b, TempC: &c, CalciumMmol: &d, WhiteCells: &e, GeneralGrade: &n})
		if err != nil || s.Low < 0 || s.High > 19 || s.Low > s.High {
			t.Fatal(s, err)
		}
		check(s.Result)
		count, err := score.SIRSItems(score.Vitals{Class: ranges.AdultLight, Heart: &a, Breaths: &b, TempC: &c})
		if err != nil || count.Outside > count.Seen || count.Seen > 4 {
			t.Fatal(count, err)
		}
		if heat, err := score.HeatSum(notation.Quantity{Value: a, Unit: notation.Celsius}, b); err == nil {
			check(heat.Result)
			if math.IsNaN(heat.Sum) || math.IsInf(heat.Sum, 0) {
				t.Fatal(heat.Sum)
			}
		}
		if neck, err := score.NeckToHeight(exam.AnimalHorse, d, e); err == nil {
			check(neck)
		}
		if crest, err := score.CrestScore(n); err == nil {
			check(crest)
		}
	})
}
