package score_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func all(v float64) map[string]float64 {
	out := map[string]float64{}
	for _, a := range steps.ConditionParts().List {
		out[a.Key] = v
	}
	return out
}

func TestConditionOfSixAreas(t *testing.T) {
	require.Len(t, steps.ConditionParts().List, 6)
	c, err := score.ConditionScore(all(5))
	require.NoError(t, err)
	assert.Equal(t, 5.0, c.Score)
	areas := all(6)
	areas["neck"], areas["ribs"] = 8, 5.5
	c, err = score.ConditionScore(areas)
	require.NoError(t, err)
	assert.InDelta(t, 6.25, c.Mean, 1e-9, "37.5 over six")
	assert.Equal(t, 6.5, c.Score, "half-way goes up")
	assert.Contains(t, c.Words, "do not agree")
	assert.Equal(t, "well above the others", c.Items[0].Says)

	for _, bad := range []float64{0, 0.5, 9.5, 5.25, -1} {
		areas["loin"] = bad
		_, err = score.ConditionScore(areas)
		require.Error(t, err, "%v", bad)
	}
	delete(areas, "loin")
	_, err = score.ConditionScore(areas)
	require.ErrorContains(t, err, "not scored: loin")
	areas = all(5)
	areas["belly"] = 5
	_, err = score.ConditionScore(areas)
	require.Error(t, err)
}

func TestConditionStaysBetweenItsAreas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		areas, low, high := map[string]float64{}, 9.0, 1.0
		for _, a := range steps.ConditionParts().List {
			v := float64(rapid.IntRange(2, 18).Draw(t, a.Key)) / 2
			areas[a.Key], low, high = v, min(low, v), max(high, v)
		}
		c, err := score.ConditionScore(areas)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, c.Score, low)
		assert.LessOrEqual(t, c.Score, high)
	})
}

func TestCrestAndNeck(t *testing.T) {
	require.Len(t, score.Crests(), 6)
	r, err := score.CrestScore(3)
	require.NoError(t, err)
	assert.Contains(t, r.Words, "cresty")
	r, err = score.CrestScore(2)
	require.NoError(t, err)
	assert.NotContains(t, r.Words, "cresty")
	for _, bad := range []int{-1, 6} {
		_, err = score.CrestScore(bad)
		require.Error(t, err)
	}
	// University of Minnesota, body measurements: 40 in over 62 in, 0.64, above 0.63.
	r, err = score.NeckToHeight(exam.AnimalHorse, 40*2.54, 62*2.54)
	require.NoError(t, err)
	assert.Equal(t, "0.645, above the limit of 0.63 for a horse", r.Words)
	r, err = score.NeckToHeight(exam.AnimalPony, 40*2.54, 62*2.54)
	require.NoError(t, err)
	assert.Contains(t, r.Words, "up to the limit of 0.68")
	_, err = score.NeckToHeight(exam.AnimalDonkey, 80, 120)
	require.ErrorContains(t, err, "only for horses and ponies")
	_, err = score.NeckToHeight(exam.AnimalHorse, 80, 0)
	require.Error(t, err)
	_, err = score.NeckToHeight(exam.AnimalHorse, 5, 150)
	require.Error(t, err)
}

func TestGrimace(t *testing.T) {
	signs := steps.GrimaceParts().List
	require.Len(t, signs, 6, "Dalla Costa 2014: six units of 0 to 2, in all 0 to 12")
	points := map[string]float64{}
	for i, s := range signs {
		points[s.Key] = float64(i % 3)
	}
	g, err := score.GrimaceScore(points)
	require.NoError(t, err)
	assert.Equal(t, [2]int{6, 6}, [2]int{g.Low, g.High})
	assert.Equal(t, "6 of 12", g.Words)
	delete(points, signs[5].Key)
	g, err = score.GrimaceScore(points)
	require.NoError(t, err)
	assert.Equal(t, "1 of 6 items not answered; no score yet", g.Words)
	points[signs[0].Key] = 3
	_, err = score.GrimaceScore(points)
	require.Error(t, err)
	_, err = score.GrimaceScore(map[string]float64{"tail": 1})
	require.Error(t, err)
	g, err = score.GrimaceScore(nil)
	require.NoError(t, err)
	assert.Equal(t, 12, g.High)
}

func TestSIRSItemsAreACount(t *testing.T) {
	v := score.Vitals{Class: ranges.AdultLight, Heart: p(52), Breaths: p(20), TempC: p(38.5), GumsPink: yes(true)}
	c, err := score.SIRSItems(v)
	require.NoError(t, err)
	assert.Equal(t, [2]int{0, 4}, [2]int{c.Outside, c.Seen}, "the figures themselves are inside")
	v.Heart, v.TempC, v.GumsPink = p(52.5), p(36.9), nil
	c, err = score.SIRSItems(v)
	require.NoError(t, err)
	assert.Equal(t, "2 of 3 outside range", c.Words)
	assert.True(t, c.Items[len(c.Items)-1].Open, "lactate needs a laboratory")
	for _, class := range []ranges.Class{ranges.FoalFirstDay, ranges.DonkeyAdult, ranges.Mule, ""} {
		v.Class = class
		_, err = score.SIRSItems(v)
		require.Error(t, err, class)
		_, err = score.Bands(v)
		require.Error(t, err, class)
	}
}

// TestBandsAsPrinted walks the bands of Mediators Inflamm 2021, 9501478, table 1.
func TestBandsAsPrinted(t *testing.T) {
	item := func(v score.Vitals, name string) score.Item {
		v.Class = ranges.AdultLight
		s, err := score.Bands(v)
		require.NoError(t, err)
		for _, i := range s.Items {
			if i.Name.String() == name {
				return i
			}
		}
		t.Fatal(name)
		return score.Item{}
	}
	const left = -1
	for _, c := range []struct {
		name string
		set  func(*score.Vitals, float64)
		want map[float64]float64
	}{
		{"heart rate", func(v *score.Vitals, x float64) { v.Heart = &x }, map[float64]float64{27: left, 28: 0, 40: 0, 40.4: 0, 40.6: 1, 41: 1, 60: 1, 61: 2, 80: 2, 81: 3, 200: 3}},
		{"breathing rate", func(v *score.Vitals, x float64) { v.Breaths = &x }, map[float64]float64{8: left, 10: 0, 14: 0, 15: 1, 25: 1, 26: 2, 45: 2, 46: 3}},
		{
			"temperature", func(v *score.Vitals, x float64) { v.TempC = &x },
			map[float64]float64{36.4: 3, 36.5: 2, 36.9: 2, 37: 1, 37.4: 1, 37.5: 0, 38: 0, 38.04: 0, 38.1: 1, 38.5: 1, 38.6: 2, 39: 2, 39.1: 3},
		},
		{"ionised calcium", func(v *score.Vitals, x float64) { v.CalciumMmol = &x }, map[float64]float64{1.49: 1, 1.5: 0, 1.8: 0, 1.9: left}},
		{"white cells", func(v *score.Vitals, x float64) { v.WhiteCells = &x }, map[float64]float64{2.9: 3, 3: 2, 3.9: 2, 4: 1, 4.8: 1, 4.9: 0, 12.6: 0, 12.7: 1, 15: 1, 15.1: 2, 20: 2, 20.1: 3}},
	} {
		for x, want := range c.want {
			var v score.Vitals
			c.set(&v, x)
			i := item(v, c.name)
			if want == left {
				assert.True(t, i.Open, "%s %v", c.name, x)
				continue
			}
			assert.False(t, i.Open, "%s %v", c.name, x)
			assert.Equal(t, want, i.Count, "%s %v", c.name, x)
		}
	}
}

func TestBandsAddUpToNineteen(t *testing.T) {
	three := 3
	worst := score.Vitals{
		Class: ranges.AdultLight, Heart: p(100), Breaths: p(60), TempC: p(40), GeneralGrade: &three, MembraneGrade: &three,
		CalciumMmol: p(1.2), WhiteCells: p(25),
	}
	s, err := score.Bands(worst)
	require.NoError(t, err)
	assert.Equal(t, [2]int{19, 19}, [2]int{s.Low, s.High}, "six items of 0 to 3 and one of 0 to 1")
	assert.Equal(t, "19 of 19", s.Words, "nothing is open")
	s, err = score.Bands(score.Vitals{Class: ranges.AdultLight})
	require.NoError(t, err)
	assert.Equal(t, "7 of 7 items not answered; no score yet", s.Words)
	worst.CalciumMmol, worst.WhiteCells = nil, nil
	s, err = score.Bands(worst)
	require.NoError(t, err)
	assert.Equal(t, [2]int{15, 19}, [2]int{s.Low, s.High}, "the items of a laboratory stay open")
}

func TestNewbornAgainstTheClock(t *testing.T) {
	born := time.Date(2026, 4, 3, 2, 10, 0, 0, time.UTC)
	at := func(d time.Duration) time.Time { return born.Add(d) }
	level := func(n score.Newborn, name string) score.MilestoneState {
		for _, s := range n.States {
			if s.Name == name {
				return s
			}
		}
		t.Fatal(name)
		return score.MilestoneState{}
	}
	// Walker, bova.vet 2023: stand usual under 1 h, abnormal from 2 h; nurse under 2 h; afterbirth over 3 h an emergency.
	n, err := score.NewbornAt(born, map[string]time.Time{"lies on its breast": at(4 * time.Minute), "sucks at a finger": at(12 * time.Minute)}, at(90*time.Minute))
	require.NoError(t, err)
	assert.Equal(t, ranges.LevelUsual, level(n, "lies on its breast").Level)
	assert.Equal(t, ranges.LevelRecheck, level(n, "sucks at a finger").Level)
	stands := level(n, "stands")
	assert.Equal(t, ranges.LevelRecheck, stands.Level)
	assert.Equal(t, 30*time.Minute, stands.Next)
	assert.Equal(t, ranges.LevelUsual, level(n, "nurses").Level)
	assert.Equal(t, "1 h 30 min since foaling, 2 of 7 seen, 2 late", n.Words)
	assert.Equal(t, ranges.LevelRecheck, n.Level)

	n, err = score.NewbornAt(born, nil, at(3*time.Hour))
	require.NoError(t, err)
	assert.Equal(t, ranges.LevelTell, level(n, "nurses").Level, "Lenz, AQHA 2016: not up and nursing by 3 h")
	assert.Equal(t, ranges.LevelTell, level(n, "mare's afterbirth is out").Level)
	assert.Equal(t, ranges.LevelUsual, level(n, "passes urine").Level)

	_, err = score.NewbornAt(born, nil, born.Add(-time.Minute))
	require.Error(t, err)
	_, err = score.NewbornAt(born, map[string]time.Time{"stands": at(time.Hour)}, at(time.Minute))
	require.Error(t, err)
	_, err = score.NewbornAt(born, map[string]time.Time{"flies": at(0)}, at(time.Minute))
	require.Error(t, err)
	for _, m := range score.Milestones() {
		assert.LessOrEqual(t, m.Usual, m.Recheck)
		assert.LessOrEqual(t, m.Recheck, m.Tell)
		assert.NotEmpty(t, m.Source)
	}
}

// TestHeatSum: eXtension Horses: under 130, 130 to 150, over 150, over 180; 30 C
// is 86 F exactly (NIST SP 811).
func TestHeatSum(t *testing.T) {
	for _, c := range []struct {
		air   notation.Quantity
		rh    float64
		sum   float64
		level ranges.Level
	}{
		{notation.Quantity{Value: 30, Unit: notation.Celsius}, 40, 126, ranges.LevelUsual},
		{notation.Quantity{Value: 50, Unit: notation.Fahrenheit}, 76, 126, ranges.LevelNote},
		{notation.Quantity{Value: 30, Unit: notation.Celsius}, 44, 130, ranges.LevelNote},
		{notation.Quantity{Value: 90, Unit: notation.Fahrenheit}, 60, 150, ranges.LevelNote},
		{notation.Quantity{Value: 90, Unit: notation.Fahrenheit}, 61, 151, ranges.LevelRecheck},
		{notation.Quantity{Value: 95, Unit: notation.Fahrenheit}, 85, 180, ranges.LevelRecheck},
		{notation.Quantity{Value: 95, Unit: notation.Fahrenheit}, 86, 181, ranges.LevelTell},
	} {
		h, err := score.HeatSum(c.air, c.rh)
		require.NoError(t, err)
		assert.InDelta(t, c.sum, h.Sum, 1e-9)
		assert.Equal(t, c.level, h.Level, "%v %v", c.air, c.rh)
	}
	for _, bad := range []notation.Quantity{{Value: 30, Unit: notation.Kilograms}, {Value: 300, Unit: notation.Celsius}, {}} {
		_, err := score.HeatSum(bad, 50)
		require.Error(t, err)
	}
	_, err := score.HeatSum(notation.Quantity{Value: 20, Unit: notation.Celsius}, 101)
	require.Error(t, err)
	r, err := score.WetBulbGlobe(notation.Quantity{Value: 28.5, Unit: notation.Celsius})
	require.NoError(t, err)
	assert.Contains(t, r.Words, "over 28 C")
	_, err = score.WetBulbGlobe(notation.Quantity{Value: 28})
	require.Error(t, err)
}

func TestEffectsOfTheContext(t *testing.T) {
	assert.Empty(t, score.Effects(exam.Context{States: []exam.State{exam.StateRest}}))
	worked := score.Effects(exam.Context{States: []exam.State{exam.StateWorked, exam.StateHot}})
	assert.Len(t, worked, 9)
	for _, state := range exam.States()[1:] {
		got := score.Effects(exam.Context{States: []exam.State{state}})
		assert.NotEmpty(t, got, state)
		for _, e := range got {
			assert.NotEmpty(t, e.Source)
			if e.AgainMin[1] > 0 { // the others say only when it is told
				assert.Greater(t, e.AgainMin[1], e.AgainMin[0])
			}
			assert.Contains(t, strings.Join(e.Lines(), "\n"), e.Source)
		}
	}
	heart, ok := score.Again(exam.Context{States: []exam.State{exam.StateWorked}}, "heart.rate")
	assert.True(t, ok)
	assert.Equal(t, [2]int{10, 45}, heart, "light work and hard work")
	temp, ok := score.Again(exam.Context{States: []exam.State{exam.StateWorked, exam.StateHot}}, "temp.rectal")
	assert.True(t, ok)
	assert.Equal(t, [2]int{30, 45}, temp, "heat does not shorten what work needs")
	_, ok = score.Again(exam.Context{States: []exam.State{exam.StateHot}}, "heart.rate")
	assert.False(t, ok, "nothing is held of heat and the heart")
}

// Every result prints its range, source and evidence, and none names an illness
// or what will become of the horse.
func TestEveryResultPrintsItsBasis(t *testing.T) {
	cond, err := score.ConditionScore(all(5))
	require.NoError(t, err)
	crest, err := score.CrestScore(4)
	require.NoError(t, err)
	neck, err := score.NeckToHeight(exam.AnimalHorse, 100, 160)
	require.NoError(t, err)
	grim, err := score.GrimaceScore(nil)
	require.NoError(t, err)
	v := score.Vitals{Class: ranges.AdultLight, Heart: p(90), Breaths: p(40), TempC: p(40), GumsPink: yes(false)}
	sirs, err := score.SIRSItems(v)
	require.NoError(t, err)
	bands, err := score.Bands(v)
	require.NoError(t, err)
	born := time.Date(2026, 4, 3, 2, 10, 0, 0, time.UTC)
	foal, err := score.NewbornAt(born, nil, born.Add(24*time.Hour))
	require.NoError(t, err)
	heat, err := score.HeatSum(notation.Quantity{Value: 40, Unit: notation.Celsius}, 90)
	require.NoError(t, err)
	wet, err := score.WetBulbGlobe(notation.Quantity{Value: 34, Unit: notation.Celsius})
	require.NoError(t, err)
	for _, r := range []score.Result{
		score.HydrationBand(row(5, "dry", 110, true, 20)).Result, cond.Result, crest, neck, grim.Result, sirs.Result, bands.Result, foal.Result, heat.Result, wet,
	} {
		text := strings.Join(r.Lines(), "\n")
		assert.Contains(t, text, "Range: "+r.Range, r.Name)
		assert.Contains(t, text, "Source: ", r.Name)
		assert.Contains(t, text, string(r.Evidence), r.Name)
		for _, empty := range []string{r.Name, r.Range, r.Source, string(r.Evidence), r.Words} {
			assert.NotEmpty(t, empty, r.Name)
		}
		said := strings.ToLower(r.Name + r.Words + r.Note)
		for _, never := range []string{"diagnos", "prognos", "sepsis", "septic", "colic", "laminitis", "insulin", "surviv", "death", "die", "treat", "positive"} {
			assert.NotContains(t, said, never, r.Name)
		}
	}
}
