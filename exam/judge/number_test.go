package judge_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// Each band of an adult horse at rest, at its ends; the source stands beside it.
func TestAdultBands(t *testing.T) {
	j := onlyNumbers(t)
	type band struct {
		step  exam.StepID
		unit  notation.Unit
		level exam.Level
		at    []float64
	}
	const (
		usual, note, recheck, tell = ranges.LevelUsual, ranges.LevelNote, ranges.LevelRecheck, ranges.LevelTell
	)
	for _, b := range []band{
		{"temp.rectal", notation.Fahrenheit, usual, []float64{97.7, 100, 101}},       // BREUER, VTUSEA
		{"temp.rectal", notation.Fahrenheit, note, []float64{101.1, 101.4}},          // between VTUSEA and MSU
		{"temp.rectal", notation.Fahrenheit, recheck, []float64{96.8, 101.5, 102.4}}, // BREUER, MSU
		{"temp.rectal", notation.Fahrenheit, tell, []float64{96.7, 90, 102.5, 106}},  // HALL19, NCSU
		{"temp.rectal", notation.Celsius, usual, []float64{36.5, 38, 38.3}},          // BREUER, VTUSEA
		{"temp.rectal", notation.Celsius, note, []float64{38.4, 38.5}},               //
		{"temp.rectal", notation.Celsius, recheck, []float64{36.0, 36.4, 38.6, 39.1}},
		{"temp.rectal", notation.Celsius, tell, []float64{35.9, 39.2, 41}}, // HALL19, NCSU, AUBURN13
		{"heart.rate", notation.PerMinute, usual, []float64{28, 36, 44}},   // BREUER, BELL
		{"heart.rate", notation.PerMinute, note, []float64{24, 27, 45, 48}},
		{"heart.rate", notation.PerMinute, recheck, []float64{20, 23, 49, 59}}, // RAEK92; NEWC2: above 48
		{"heart.rate", notation.PerMinute, tell, []float64{19, 60, 120}},       // PROV5, BREUER
		{"breath.rate", notation.PerMinute, usual, []float64{8, 16}},           // MILB
		{"breath.rate", notation.PerMinute, note, []float64{17, 20, 7}},
		{"breath.rate", notation.PerMinute, recheck, []float64{21, 29}}, // SMTN: above 20
		{"breath.rate", notation.PerMinute, tell, []float64{3, 30, 80}}, // from memory; BREUER's third band begins at 26
		{"gum.refill", notation.Seconds, usual, []float64{1, 2}},        // PENNP
		{"gum.refill", notation.Seconds, recheck, []float64{2.1, 3}},    // HENDERSON
		{"gum.refill", notation.Seconds, tell, []float64{3.1, 5}},       // AERA: above 3 s
		{"skin.tent", notation.Seconds, usual, []float64{1, 2}},         // AERA
		{"skin.tent", notation.Seconds, note, []float64{2.5, 9}},        // PRIT08: never flagged alone
	} {
		for _, v := range b.at {
			t.Run(fmt.Sprintf("%s %v %s", b.step, v, b.unit), func(t *testing.T) {
				f := measured(b.step, v, b.unit)
				r, ok := j.Finding(adult(t, f), f, nil)
				require.True(t, ok)
				assert.Equal(t, b.level.String(), r.Level.String(), r.Why)
				assert.Equal(t, b.unit, r.Unit)
				assert.NotEmpty(t, r.Source)
				assert.NotEmpty(t, r.Evidence)
				verdict := j.Visit(adult(t, f), nil)
				assert.Equal(t, b.level, verdict.Level)
				alone := slices.DeleteFunc(verdict.Remarks, func(r exam.Remark) bool { return r.Combination })
				assert.Equal(t, b.level >= note, len(alone) == 1)
			})
		}
	}
}

// Every class is judged by its own row, or listed with the reason why no row is held; never by another class's.
func TestEveryClassHasItsOwnRowOrAReason(t *testing.T) {
	table, j := builtIn(t), onlyNumbers(t)
	units := map[ranges.Measure]notation.Unit{
		ranges.TempRectal: notation.Fahrenheit, ranges.HeartRate: notation.PerMinute, ranges.BreathRate: notation.PerMinute,
		ranges.GumRefill: notation.Seconds, ranges.SkinTent: notation.Seconds,
	}
	for _, class := range ranges.Classes() {
		for _, m := range ranges.Measures() {
			t.Run(fmt.Sprintf("%s %s", class, m), func(t *testing.T) {
				f := measured(exam.StepID(m), 2, units[m])
				v := visitOf(horseOf(t, class), f)
				step, _ := numbers().ByID(exam.StepID(m))
				text, shown := j.Range(v.Class(), step, units[m])
				row, held := table.Lookup(m, class, ranges.Unit(units[m]))
				assert.Equal(t, held, shown)
				verdict := j.Visit(v, nil)
				if !held {
					why, ok := table.Absent(m, class)
					require.True(t, ok)
					require.Len(t, verdict.NotJudged, 1)
					assert.Contains(t, verdict.NotJudged[0].Why, why)
					assert.Contains(t, text.Why, why)
					assert.Empty(t, verdict.Remarks)
					return
				}
				assert.Empty(t, verdict.NotJudged)
				assert.Equal(t, row.Usual.High, text.High)
				assert.Equal(t, units[m], text.Unit)
				level, _, _ := row.Level(2)
				assert.Equal(t, level, verdict.Level)
				assert.Equal(t, row.Usual.Empty(), text.Source == "")
			})
		}
	}
}

// A donkey's fever begins where a horse's is not yet one: above 38.0 C (WVS, common practice).
func TestADonkeyIsNoHorse(t *testing.T) {
	j := onlyNumbers(t)
	f := measured("temp.rectal", 38.1, notation.Celsius)
	donkey := j.Visit(visitOf(horseOf(t, ranges.DonkeyAdult), f), nil)
	require.Len(t, donkey.Remarks, 1)
	assert.Equal(t, ranges.LevelTell, donkey.Level)
	assert.Equal(t, "tell the vet from 38.1", donkey.Remarks[0].Crossed)
	assert.Equal(t, ranges.CommonPractice, donkey.Remarks[0].Evidence)
	assert.Contains(t, donkey.Remarks[0].Why, "donkey, adult")
	assert.Equal(t, ranges.LevelUsual, j.Visit(adult(t, f), nil).Level)
}

func TestWhatIsNoNumberIsNeverUsual(t *testing.T) {
	j := onlyNumbers(t)
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, step := range []exam.StepID{"heart.rate", "weight.body"} {
			verdict := j.Visit(adult(t, measured(step, v, notation.PerMinute)), nil)
			require.Len(t, verdict.NotJudged, 1)
			assert.Equal(t, "it holds no number", verdict.NotJudged[0].Why)
		}
	}
	verdict := j.Visit(adult(t, measured("heart.rate", 40, notation.Kilograms), exam.Finding{Step: "gum.refill"}, exam.Finding{Step: "new.step"}), nil)
	assert.Empty(t, verdict.Remarks)
	assert.Len(t, verdict.NotJudged, 3)
	undone := exam.Finding{Step: "heart.rate", NotDone: exam.ReasonRefused}
	verdict = j.Visit(adult(t, undone), nil)
	assert.Empty(t, verdict.NotJudged, "a step not done is listed elsewhere, with its own reason")
	_, ok := j.Finding(adult(t), undone, nil)
	assert.False(t, ok)
}

// Acceptance line 20 of the counting facts: where the interval straddles the limit, the remark says borderline.
func TestACountNearALimitIsBorderline(t *testing.T) {
	j := onlyNumbers(t)
	for _, c := range []struct {
		rate, half float64
		level      exam.Level
		borderline bool
	}{
		{59.5, 0.6, ranges.LevelRecheck, true},
		{60.5, 0.6, ranges.LevelTell, true},
		{59.5, 0.4, ranges.LevelRecheck, false},
		{60.5, 0.4, ranges.LevelTell, false},
		{48.6, 0.6, ranges.LevelNote, true},
		{43.6, 0.6, ranges.LevelNote, true}, // usual by itself, but not for certain
		{43.6, 0.2, ranges.LevelUsual, false},
		{28.3, 0.6, ranges.LevelNote, true},
		{23.8, 0.6, ranges.LevelRecheck, true},
		{36, 0.6, ranges.LevelUsual, false},
		{36, 30, ranges.LevelNote, true},
		{60, math.NaN(), ranges.LevelTell, false},
		{60, math.Inf(1), ranges.LevelTell, false},
	} {
		f := tapped("heart.rate", c.rate, c.half)
		r, ok := j.Finding(adult(t, f), f, nil)
		require.True(t, ok)
		assert.Equal(t, c.borderline, r.Borderline, "%v ± %v", c.rate, c.half)
		assert.Equal(t, c.level.String(), r.Level.String(), "%v ± %v", c.rate, c.half)
		if c.borderline {
			assert.Contains(t, r.Why, "borderline")
		}
	}
}

// Context never hides a value: it adds "repeat at rest", in the minutes that the
// start of the exam and the step name too, and leaves the level. Only a rate that
// is told just after work is taken again first (worked_test.go).
func TestContextAddsARepeat(t *testing.T) {
	j := onlyNumbers(t)
	for _, f := range []exam.Finding{
		measured("heart.rate", 64, notation.PerMinute), measured("breath.rate", 34, notation.PerMinute), measured("temp.rectal", 39.3, notation.Celsius),
		measured("heart.rate", 46, notation.PerMinute),
	} {
		v := adult(t, f)
		calm, _ := j.Finding(v, f, nil)
		assert.NotContains(t, calm.Why, "at rest in")
		v.Context.States = []exam.State{exam.StateRest}
		rest, _ := j.Finding(v, f, nil)
		assert.Equal(t, calm, rest)
		for _, s := range exam.States()[1:] {
			v.Context.States = []exam.State{s}
			stirred, _ := j.Finding(v, f, nil)
			minutes := "10-15" // quiet rest and a second look, where nothing more is known
			if again, ok := score.Again(v.Context, f.Step); ok {
				minutes = fmt.Sprintf("%d-%d", again[0], again[1])
			}
			if s == exam.StateWorked && calm.Level == ranges.LevelTell && f.Step != "temp.rectal" {
				assert.Contains(t, stirred.Why, "it just worked: count again at rest in 15 min")
				assert.Equal(t, ranges.LevelRecheck, stirred.Level)
				continue
			}
			assert.Contains(t, stirred.Why, "repeat at rest in "+minutes+" min ("+s.String()+")")
			assert.Equal(t, calm.Level, stirred.Level)
		}
	}
	refill := measured("gum.refill", 4, notation.Seconds)
	v := adult(t, refill)
	v.Context.States = []exam.State{exam.StateWorked}
	r, _ := j.Finding(v, refill, nil)
	assert.NotContains(t, r.Why, "repeat")
}

// A high count is repeated; where the veterinarian is told nothing beside it may be read as a reason to wait.
func TestAHighCountThatIsToldIsNoReasonToWait(t *testing.T) {
	j := onlyNumbers(t)
	why := func(rate float64) string {
		for _, r := range j.Visit(adult(t, measured("heart.rate", rate, notation.PerMinute)), nil).Remarks {
			if r.Step == "heart.rate" {
				return r.Why
			}
		}
		return ""
	}
	assert.Contains(t, why(52), "one high count is mostly excitement")
	assert.Contains(t, why(69), "tell first, then repeat quietly in 10-15 min")
	assert.NotContains(t, why(69), "excitement")
}
