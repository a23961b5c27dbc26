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
	measure ranges.Measure
	class   ranges.Class
	unit    ranges.Unit
	value   float64
	level   ranges.Level
	side    string
	source  string // of the limit crossed; of the usual range when none is
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
	}
}

// The starter defaults for the adult horse at rest, edge by edge. They are ours, set at figures of the sources named:
// TEXT21 table 2.1 (usual temperature and heart), MSU (isolate above 101.5 F), LAT36 (call above 102.5 F, below 98 F,
// heart above 60, refill above 3 s), NEWC2 (heart above 48), MILB (8-16 breaths), SMTN (above 20), ILV (30 and more),
// PENNP (refill 1-2 s), HENDERSON (2-3 s a concern). Heart under 24 is from memory.
func TestAdultDefaults(t *testing.T) {
	const a = ranges.AdultLight
	checkJudged(t, []judged{
		{ranges.TempRectal, a, ranges.Fahrenheit, 97.9, ranges.LevelTell, "low", "LAT36"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 98.0, ranges.LevelNote, "low", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 98.9, ranges.LevelNote, "low", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 99.0, ranges.LevelUsual, "", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 101.0, ranges.LevelUsual, "", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 101.1, ranges.LevelNote, "high", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 101.4, ranges.LevelNote, "high", "TEXT21"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 101.5, ranges.LevelRecheck, "high", "MSU"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 102.4, ranges.LevelRecheck, "high", "MSU"},
		{ranges.TempRectal, a, ranges.Fahrenheit, 102.5, ranges.LevelTell, "high", "LAT36"},

		{ranges.TempRectal, a, ranges.Celsius, 36.6, ranges.LevelTell, "low", "LAT36"},
		{ranges.TempRectal, a, ranges.Celsius, 36.7, ranges.LevelNote, "low", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 37.1, ranges.LevelNote, "low", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 37.2, ranges.LevelUsual, "", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 38.3, ranges.LevelUsual, "", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 38.4, ranges.LevelNote, "high", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 38.5, ranges.LevelNote, "high", "TEXT21"},
		{ranges.TempRectal, a, ranges.Celsius, 38.6, ranges.LevelRecheck, "high", "MSU"},
		{ranges.TempRectal, a, ranges.Celsius, 39.1, ranges.LevelRecheck, "high", "MSU"},
		{ranges.TempRectal, a, ranges.Celsius, 39.2, ranges.LevelTell, "high", "LAT36"},

		{ranges.HeartRate, a, ranges.PerMinute, 23, ranges.LevelTell, "low", "MEMORY"},
		{ranges.HeartRate, a, ranges.PerMinute, 24, ranges.LevelNote, "low", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 27, ranges.LevelNote, "low", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 28, ranges.LevelUsual, "", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 44, ranges.LevelUsual, "", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 45, ranges.LevelNote, "high", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 48, ranges.LevelNote, "high", "TEXT21"},
		{ranges.HeartRate, a, ranges.PerMinute, 49, ranges.LevelRecheck, "high", "NEWC2"},
		{ranges.HeartRate, a, ranges.PerMinute, 59, ranges.LevelRecheck, "high", "NEWC2"},
		{ranges.HeartRate, a, ranges.PerMinute, 60, ranges.LevelTell, "high", "LAT36"},

		{ranges.BreathRate, a, ranges.PerMinute, 7, ranges.LevelNote, "low", "MILB"},
		{ranges.BreathRate, a, ranges.PerMinute, 8, ranges.LevelUsual, "", "MILB"},
		{ranges.BreathRate, a, ranges.PerMinute, 16, ranges.LevelUsual, "", "MILB"},
		{ranges.BreathRate, a, ranges.PerMinute, 17, ranges.LevelNote, "high", "MILB"},
		{ranges.BreathRate, a, ranges.PerMinute, 20, ranges.LevelNote, "high", "MILB"},
		{ranges.BreathRate, a, ranges.PerMinute, 21, ranges.LevelRecheck, "high", "SMTN"},
		{ranges.BreathRate, a, ranges.PerMinute, 29, ranges.LevelRecheck, "high", "SMTN"},
		{ranges.BreathRate, a, ranges.PerMinute, 30, ranges.LevelTell, "high", "ILV"},

		{ranges.GumRefill, a, ranges.Seconds, 0.8, ranges.LevelUsual, "", "PENNP"},
		{ranges.GumRefill, a, ranges.Seconds, 2.0, ranges.LevelUsual, "", "PENNP"},
		{ranges.GumRefill, a, ranges.Seconds, 2.1, ranges.LevelRecheck, "high", "HENDERSON"},
		{ranges.GumRefill, a, ranges.Seconds, 3.0, ranges.LevelRecheck, "high", "HENDERSON"},
		{ranges.GumRefill, a, ranges.Seconds, 3.1, ranges.LevelTell, "high", "LAT36"},

		// Never flagged alone: Pritchard 2008 found that it followed neither water intake nor plasma osmolality.
		{ranges.SkinTent, a, ranges.Seconds, 2.0, ranges.LevelUsual, "", "LAT36"},
		{ranges.SkinTent, a, ranges.Seconds, 9.0, ranges.LevelNote, "high", "LAT36"},
	})
}

// Donkeys: The Donkey Sanctuary's current set (DSBBC), above 38.0 C (100.4 F) counts (UKNOTE2), sustained 60-80 and more
// (WVS); young and newborn from WVS. Mules: a hobby page (QMULE). Pony: NATIVE. Yearling heart: AGG2, LAT36.
func TestOtherClasses(t *testing.T) {
	checkJudged(t, []judged{
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Celsius, 36.5, ranges.LevelUsual, "", "DSBBC"},
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Celsius, 38.0, ranges.LevelNote, "high", "DSBBC"},
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Celsius, 38.1, ranges.LevelTell, "high", "UKNOTE2"},
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Fahrenheit, 100.4, ranges.LevelNote, "high", "DSBBC"},
		{ranges.TempRectal, ranges.DonkeyAdult, ranges.Fahrenheit, 100.5, ranges.LevelTell, "high", "UKNOTE2"},
		{ranges.HeartRate, ranges.DonkeyAdult, ranges.PerMinute, 53, ranges.LevelUsual, "", "DSBBC"},
		{ranges.HeartRate, ranges.DonkeyAdult, ranges.PerMinute, 60, ranges.LevelTell, "high", "WVS"},
		{ranges.BreathRate, ranges.DonkeyAdult, ranges.PerMinute, 31, ranges.LevelUsual, "", "DSBBC"},
		{ranges.HeartRate, ranges.DonkeyYoung, ranges.PerMinute, 80, ranges.LevelUsual, "", "WVS"},
		{ranges.TempRectal, ranges.DonkeyNewborn, ranges.Celsius, 38.6, ranges.LevelNote, "high", "WVS"},
		{ranges.HeartRate, ranges.Mule, ranges.PerMinute, 34, ranges.LevelUsual, "", "QMULE"},
		{ranges.TempRectal, ranges.Mule, ranges.Fahrenheit, 102.5, ranges.LevelNote, "high", "QMULE"},
		{ranges.TempRectal, ranges.Mule, ranges.Fahrenheit, 102.6, ranges.LevelTell, "high", "QMULE"},
		{ranges.HeartRate, ranges.Pony, ranges.PerMinute, 43, ranges.LevelNote, "high", "NATIVE"},
		{ranges.HeartRate, ranges.Yearling, ranges.PerMinute, 60, ranges.LevelUsual, "", "AGG2"},
		{ranges.HeartRate, ranges.Yearling, ranges.PerMinute, 61, ranges.LevelTell, "high", "LAT36"},
		{ranges.HeartRate, ranges.TwoThree, ranges.PerMinute, 51, ranges.LevelRecheck, "high", "4H"},
	})
}

// Foals: 160 +/- 9 measured within 30 min (Nagel 2015, NAGEL15), so no count alone is flagged as high in the first 12 h;
// FOALT, CAMP, AVENEL, MERCKAH for the first week; 38.2-38.8 C to six months (TBFOAL); call below 99.0 F (AQHA) and
// above 102.0 F (LAMB), or outside its range (FOALRF).
func TestFoals(t *testing.T) {
	checkJudged(t, []judged{
		{ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute, 160, ranges.LevelUsual, "", "NAGEL15"},
		{ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute, 220, ranges.LevelNote, "high", "NAGEL15"},
		{ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute, 59, ranges.LevelTell, "low", "FOALT"},
		{ranges.HeartRate, ranges.FoalFirstDay, ranges.PerMinute, 200, ranges.LevelNote, "high", "FOALT"},
		{ranges.HeartRate, ranges.FoalFirstWeek, ranges.PerMinute, 121, ranges.LevelRecheck, "high", "FOALRF"},
		{ranges.HeartRate, ranges.FoalFirstWeek, ranges.PerMinute, 79, ranges.LevelTell, "low", "FOALRF"},
		{ranges.HeartRate, ranges.FoalAgeUnknown, ranges.PerMinute, 100, ranges.LevelNote, "high", "TEXT21"},
		{ranges.TempRectal, ranges.FoalFirstHour, ranges.Fahrenheit, 98.6, ranges.LevelRecheck, "low", "AQHA"},
		{ranges.TempRectal, ranges.FoalFirstHour, ranges.Fahrenheit, 98.5, ranges.LevelTell, "low", "NEONOTE"},
		{ranges.TempRectal, ranges.FoalFirstHour, ranges.Fahrenheit, 101.6, ranges.LevelRecheck, "high", "AQHA"},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Fahrenheit, 102.0, ranges.LevelUsual, "", "CAMP"},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Fahrenheit, 102.1, ranges.LevelTell, "high", "LAMB"},
		{ranges.TempRectal, ranges.FoalFirstDay, ranges.Celsius, 39.0, ranges.LevelTell, "high", "LAMB"},
		{ranges.TempRectal, ranges.FoalFirstWeek, ranges.Fahrenheit, 98.9, ranges.LevelTell, "low", "AQHA"},
		{ranges.TempRectal, ranges.FoalFirstMonth, ranges.Celsius, 38.2, ranges.LevelUsual, "", "TBFOAL"},
		{ranges.TempRectal, ranges.FoalToSixMonths, ranges.Celsius, 38.9, ranges.LevelNote, "high", "TBFOAL"},
		{ranges.BreathRate, ranges.FoalFirstHour, ranges.PerMinute, 60, ranges.LevelUsual, "", "FOALT"},
		{ranges.BreathRate, ranges.FoalFirstDay, ranges.PerMinute, 60, ranges.LevelRecheck, "high", "FOALRF"},
		{ranges.BreathRate, ranges.FoalFirstDay, ranges.PerMinute, 19, ranges.LevelRecheck, "low", "MERCKAH"},
	})
}
