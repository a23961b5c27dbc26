package ranges_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

func builtIn(t testing.TB) *ranges.Table {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return table
}

// judged is one value of one class and what must be said of it.
type judged struct {
	measure  ranges.Measure
	class    ranges.Class
	unit     ranges.Unit
	value    float64
	level    ranges.Level
	side     string
	source   string // of the limit crossed; of the usual range when none is
	evidence ranges.Evidence
}

func checkJudged(t *testing.T, cases []judged) {
	t.Helper()
	table := builtIn(t)
	for _, c := range cases {
		row, ok := table.Lookup(c.measure, c.class, c.unit)
		require.True(t, ok, "%+v", c)
		level, crossed, side := row.Level(c.value)
		assert.Equal(t, c.level, level, "%s of %s at %v %s", c.measure, c.class, c.value, c.unit)
		assert.Equal(t, c.side, side, "%+v", c)
		assert.Equal(t, c.source, crossed.Source, "%+v", c)
		assert.Equal(t, c.evidence, crossed.Evidence, "%+v", c)
	}
}

const (
	published = ranges.Published
	page      = ranges.PracticePage
	common    = ranges.CommonPractice
	memory    = ranges.FromMemory
)

// The adult horse at rest, edge by edge: BREUER table 1 (bands), HALL19 (36.0-38.0 C in a healthy yard), VTUSEA (98-101 F),
// MSU (isolate above 101.5 F), NCSU (fever above 39.2 C), BREUER and BELL (28, 44), NEWC2 (heart above 48), MILB (8-16
// breaths), SMTN (above 20), PENNP (refill 1-2 s), HENDERSON (2-3 s a concern), AERA (above 3 s out).
func TestAdultDefaults(t *testing.T) {
	const a, f, c = ranges.AdultLight, ranges.Fahrenheit, ranges.Celsius
	const tell, recheck, note, usual = ranges.LevelTell, ranges.LevelRecheck, ranges.LevelNote, ranges.LevelUsual
	checkJudged(t, []judged{
		{ranges.TempRectal, a, f, 96.7, tell, "low", "HALL19", published},
		{ranges.TempRectal, a, f, 96.8, recheck, "low", "BREUER", published},
		{ranges.TempRectal, a, f, 101.4, note, "high", "VTUSEA", published},
		{ranges.TempRectal, a, f, 101.5, recheck, "high", "MSU", published},
		{ranges.TempRectal, a, f, 102.4, recheck, "high", "MSU", published},
		{ranges.TempRectal, a, f, 102.5, tell, "high", "NCSU", published},
		{ranges.TempRectal, a, c, 35.9, tell, "low", "HALL19", published},
		{ranges.TempRectal, a, c, 36.0, recheck, "low", "BREUER", published},
		{ranges.TempRectal, a, c, 36.4, recheck, "low", "BREUER", published},
		{ranges.TempRectal, a, c, 36.5, usual, "", "VTUSEA", published},
		{ranges.TempRectal, a, c, 38.3, usual, "", "VTUSEA", published},
		{ranges.TempRectal, a, c, 38.5, note, "high", "VTUSEA", published},
		{ranges.TempRectal, a, c, 38.6, recheck, "high", "MSU", published},
		{ranges.TempRectal, a, c, 39.2, tell, "high", "NCSU", published},

		{ranges.HeartRate, a, ranges.PerMinute, 19, tell, "low", "PROV5", common},
		{ranges.HeartRate, a, ranges.PerMinute, 23, recheck, "low", "PROV1", common},
		{ranges.HeartRate, a, ranges.PerMinute, 24, note, "low", "BREUER", published},
		{ranges.HeartRate, a, ranges.PerMinute, 28, usual, "", "BELL", page},
		{ranges.HeartRate, a, ranges.PerMinute, 48, note, "high", "BELL", page},
		{ranges.HeartRate, a, ranges.PerMinute, 49, recheck, "high", "NEWC2", page},
		{ranges.HeartRate, a, ranges.PerMinute, 60, tell, "high", "BREUER", published},

		{ranges.BreathRate, a, ranges.PerMinute, 3, tell, "low", "MEMORY", memory},
		{ranges.BreathRate, a, ranges.PerMinute, 7, note, "low", "MILB", page},
		{ranges.BreathRate, a, ranges.PerMinute, 16, usual, "", "MILB", page},
		{ranges.BreathRate, a, ranges.PerMinute, 20, note, "high", "MILB", page},
		{ranges.BreathRate, a, ranges.PerMinute, 21, recheck, "high", "SMTN", page},
		{ranges.BreathRate, a, ranges.PerMinute, 30, tell, "high", "BREUER", common},

		{ranges.GumRefill, a, ranges.Seconds, 2.0, usual, "", "PENNP", published},
		{ranges.GumRefill, a, ranges.Seconds, 2.1, recheck, "high", "HENDERSON", published},
		{ranges.GumRefill, a, ranges.Seconds, 3.0, recheck, "high", "HENDERSON", published},
		{ranges.GumRefill, a, ranges.Seconds, 3.1, tell, "high", "AERA", published},

		// Never flagged alone: Pritchard 2008 found that it followed neither water intake nor plasma osmolality.
		{ranges.SkinTent, a, ranges.Seconds, 9.0, note, "high", "AERA", published},
	})
}

// What went unjudged or was only noted before: a weanling at 41.5 C, a miniature at 41 C and 140 beats, a newborn donkey
// at 35 C, a mule at 120 beats, a foal of two days with a refill of 4 s; and what was called too early.
func TestDangerousValues(t *testing.T) {
	const tell, recheck, usual = ranges.LevelTell, ranges.LevelRecheck, ranges.LevelUsual
	checkJudged(t, []judged{
		{ranges.TempRectal, ranges.Weanling, ranges.Celsius, 41.5, tell, "high", "NCSU", common},
		{ranges.TempRectal, ranges.Weanling, ranges.Celsius, 38.9, recheck, "high", "ROBIN08", published},
		{ranges.TempRectal, ranges.Miniature, ranges.Celsius, 41, tell, "high", "NCSU", common},
		{ranges.HeartRate, ranges.Miniature, ranges.PerMinute, 140, tell, "high", "TRADE", common},
		{ranges.TempRectal, ranges.DonkeyNewborn, ranges.Celsius, 35, tell, "low", "HARTUGA", common},
		{ranges.HeartRate, ranges.Mule, ranges.PerMinute, 120, tell, "high", "BREUER", common},
		{ranges.HeartRate, ranges.Mule, ranges.PerMinute, 18, recheck, "low", "MULEECG", common},
		{ranges.GumRefill, ranges.FoalFirstWeek, ranges.Seconds, 4, tell, "high", "AERA", common},
		{ranges.GumRefill, ranges.FoalFirstWeek, ranges.Seconds, 2.1, recheck, "high", "VNJ24", published},
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Celsius, 38.1, tell, "high", "WVS", common},
		{ranges.HeartRate, ranges.DonkeyAdult, ranges.PerMinute, 53, usual, "", "DSBBC", published},
		{ranges.HeartRate, ranges.DonkeyAdult, ranges.PerMinute, 60, tell, "high", "WVS", page},
		{ranges.HeartRate, ranges.MareInFoal, ranges.PerMinute, 55, usual, "", "NAGEL11A", common},
		{ranges.HeartRate, ranges.SmallMareInFoal, ranges.PerMinute, 63, usual, "", "NAGEL11B", common},
		{ranges.HeartRate, ranges.FoalFirstMonth, ranges.PerMinute, 95, usual, "", "HARTUGA", common},
		{ranges.HeartRate, ranges.FoalFirstWeek, ranges.PerMinute, 79, tell, "low", "HARTUGA", published},
		{ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute, 160, usual, "", "NAGEL15", common},
		{ranges.HeartRate, ranges.TwoThree, ranges.PerMinute, 50, usual, "", "KPPV", common},
		{ranges.HeartRate, ranges.Pony, ranges.PerMinute, 34, usual, "", "CREOLE", common},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Fahrenheit, 102.0, usual, "", "HARTUGA", published},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Fahrenheit, 102.1, tell, "high", "HARTUGA", published},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Fahrenheit, 98.9, tell, "low", "HARTUGA", published},
		{ranges.BreathRate, ranges.FoalFirstMonth, ranges.PerMinute, 41, recheck, "high", "PRESC89", published},
		{ranges.BreathRate, ranges.DonkeyFirstDay, ranges.PerMinute, 60, usual, "", "", ""},
	})
}
