package ranges_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

// Usual figures as each source prints them (citations in tables/sources.csv), written down a second time so that a slip
// in a table shows. MEMORY, and the adult figures for two to three years, are from memory.
func TestUsualFiguresAsPrinted(t *testing.T) {
	const c, perMin, s = ranges.Celsius, ranges.PerMinute, ranges.Seconds
	printed := []struct {
		class     ranges.Class
		measure   ranges.Measure
		unit      ranges.Unit
		low, high float64 // low 0: none
		source    string
	}{
		{ranges.AdultLight, ranges.TempRectal, c, 37.2, 38.3, "TEXT21"},
		{ranges.AdultLight, ranges.HeartRate, perMin, 28, 44, "TEXT21"},
		{ranges.AdultLight, ranges.BreathRate, perMin, 8, 16, "MILB"},
		{ranges.Draft, ranges.TempRectal, c, 37.2, 38.3, "TEXT21"},
		{ranges.Draft, ranges.HeartRate, perMin, 28, 44, "TEXT21"},
		{ranges.Draft, ranges.BreathRate, perMin, 8, 16, "MILB"},
		{ranges.Pony, ranges.TempRectal, c, 37.2, 38.3, "NATIVE"},
		{ranges.Pony, ranges.HeartRate, perMin, 36, 42, "NATIVE"},
		{ranges.Pony, ranges.BreathRate, perMin, 8, 12, "NATIVE"},
		{ranges.DonkeyAdult, ranges.TempRectal, c, 36.5, 37.7, "DSBBC"},
		{ranges.DonkeyAdult, ranges.HeartRate, perMin, 31, 53, "DSBBC"},
		{ranges.DonkeyAdult, ranges.BreathRate, perMin, 13, 31, "DSBBC"},
		{ranges.DonkeyYoung, ranges.TempRectal, c, 36.2, 38.9, "WVS"},
		{ranges.DonkeyYoung, ranges.HeartRate, perMin, 40, 80, "WVS"},
		{ranges.DonkeyYoung, ranges.BreathRate, perMin, 16, 48, "DSKBR"},
		{ranges.DonkeyNewborn, ranges.TempRectal, c, 37.5, 38.5, "WVS"},
		{ranges.DonkeyNewborn, ranges.HeartRate, perMin, 80, 120, "WVS"},
		{ranges.Mule, ranges.TempRectal, c, 37.5, 38.6, "QMULE"},
		{ranges.Mule, ranges.HeartRate, perMin, 30, 42, "QMULE"},
		{ranges.Mule, ranges.BreathRate, perMin, 12, 20, "QMULE"},
		{ranges.FoalFirstHour, ranges.TempRectal, c, 37.2, 38.6, "AVENEL"},
		{ranges.FoalFirstHour, ranges.HeartRate, perMin, 60, 160 + 9, "NAGEL15"},
		{ranges.FoalFirstHour, ranges.BreathRate, perMin, 30, 80, "FOALT"},
		{ranges.FoalFirstDay, ranges.TempRectal, c, 37.5, 38.9, "CAMP"},
		{ranges.FoalFirstDay, ranges.HeartRate, perMin, 80, 150, "FOALT"},
		{ranges.FoalFirstDay, ranges.BreathRate, perMin, 30, 40, "CAMP"},
		{ranges.FoalFirstWeek, ranges.TempRectal, c, 37.2, 38.8, "FOALT"},
		{ranges.FoalFirstWeek, ranges.HeartRate, perMin, 80, 120, "FOALT"},
		{ranges.FoalFirstWeek, ranges.BreathRate, perMin, 20, 40, "MERCKAH"},
		{ranges.FoalFirstMonth, ranges.TempRectal, c, 38.2, 38.8, "TBFOAL"},
		{ranges.FoalFirstMonth, ranges.HeartRate, perMin, 70, 90, "RAIN"},
		{ranges.FoalFirstMonth, ranges.BreathRate, perMin, 20, 40, "TEXT21"},
		{ranges.FoalToSixMonths, ranges.TempRectal, c, 38.2, 38.8, "TBFOAL"},
		{ranges.FoalToSixMonths, ranges.HeartRate, perMin, 60, 80, "AGG1"},
		{ranges.FoalToSixMonths, ranges.BreathRate, perMin, 15, 40, "TEXT21"},
		{ranges.Weanling, ranges.HeartRate, perMin, 45, 60, "RAIN"},
		{ranges.FoalAgeUnknown, ranges.TempRectal, c, 37.2, 38.9, "TEXT21"},
		{ranges.FoalAgeUnknown, ranges.HeartRate, perMin, 50, 70, "TEXT21"},
		{ranges.FoalAgeUnknown, ranges.BreathRate, perMin, 20, 40, "TEXT21"},
		{ranges.Yearling, ranges.TempRectal, c, 37.2, 38.5, "MEMORY"},
		{ranges.Yearling, ranges.HeartRate, perMin, 40, 60, "AGG2"},
		{ranges.Yearling, ranges.BreathRate, perMin, 10, 20, "MEMORY"},
		{ranges.TwoThree, ranges.TempRectal, c, 37.2, 38.3, "TEXT21"},
		{ranges.TwoThree, ranges.HeartRate, perMin, 40, 50, "RAIN"},
		{ranges.TwoThree, ranges.BreathRate, perMin, 8, 16, "MILB"},
		{ranges.Mule, ranges.GumRefill, s, 0, 2, "QMULE"},
	}
	horses := []ranges.Class{
		ranges.AdultLight, ranges.Draft, ranges.Pony, ranges.Miniature, ranges.Yearling, ranges.TwoThree,
	}
	table := builtIn(t)
	held := map[[2]string]bool{}
	check := func(class ranges.Class, m ranges.Measure, u ranges.Unit, low, high float64, source string) {
		held[[2]string{string(class), string(m)}] = true
		row, ok := table.Lookup(m, class, u)
		require.True(t, ok, "%s of %s", m, class)
		gotLow, _ := row.Usual.Edge(ranges.SideLow)
		gotHigh, _ := row.Usual.Edge(ranges.SideHigh)
		assert.InDelta(t, low, gotLow, 0, "%s of %s", m, class)
		assert.InDelta(t, high, gotHigh, 0, "%s of %s", m, class)
		assert.Equal(t, source, row.Usual.Source, "%s of %s", m, class)
	}
	for _, p := range printed {
		check(p.class, p.measure, p.unit, p.low, p.high, p.source)
	}
	for _, class := range horses { // no source splits these two by size
		check(class, ranges.GumRefill, s, 0, 2, "PENNP")
		check(class, ranges.SkinTent, s, 0, 2, "LAT36")
	}
	for _, r := range table.Rows() {
		assert.True(t, held[[2]string{string(r.Class), string(r.Measure)}], "%s of %s is not checked here", r.Measure, r.Class)
	}
}
