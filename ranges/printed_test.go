package ranges_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

// Every row written down a second time, from the papers, pages and reasons named in its words (citations in
// tables/sources.csv), so that a slip in a table shows.
func TestRowsAsPrinted(t *testing.T) {
	adult := "usual 36.5-38.3 C; recheck from 38.6 or under 36.5; tell the vet from 39.2 or under 36.0"
	foalTemp := "usual 37.5-38.9 C; tell the vet from 39.0 or under 37.2"
	breaths := "usual 8-16 /min; recheck from 21; tell the vet from 30 or under 4"
	foalBreaths := "usual 20-40 /min; recheck from 41 or under 20; tell the vet from 61 or under 10"
	newbornHeart := "usual 80-120 /min; recheck from 121; tell the vet from 150 or under 80"
	donkeyFoal := "usual 36.2-38.6 C; recheck from 38.7; tell the vet from 39.0 or under 36.2"
	youngDonkey := "usual 16-48 /min; recheck from 49; tell the vet from 60 or under 6"
	muleFoal := "usual 37.0-38.4 C; recheck from 38.6; tell the vet from 39.0 or under 36.5"
	muleHeart := "usual 60-124 /min; recheck from 125; tell the vet from 150 or under 60"
	oldFoal := [3]string{foalTemp, "usual 60-80 /min; recheck from 101 or under 50; tell the vet from 121 or under 40", "usual 15-40 /min; recheck from 41; tell the vet from 61 or under 8"}
	monthFoal := [3]string{foalTemp, "usual 70-120 /min; recheck from 121 or under 70; tell the vet from 150 or under 60", "usual 20-40 /min; recheck from 41; tell the vet from 61 or under 10"}
	weanling := [3]string{
		"usual 37.5-38.8 C; recheck from 38.9 or under 37.0; tell the vet from 39.2 or under 36.5",
		"usual 40-60 /min; recheck from 61 or under 36; tell the vet from 81 or under 28",
		"usual 8-20 /min; recheck from 25; tell the vet from 41 or under 6",
	}
	dayBreaths := "usual 20-45 /min; recheck from 51 or under 20; tell the vet from 81 or under 10"
	unknownHeart := "usual 80-100 /min; recheck from 101; tell the vet from 121 or under 80"
	for class, want := range map[ranges.Class][3]string{
		ranges.AdultLight:         {adult, "usual 28-44 /min; recheck from 49 or under 24; tell the vet from 60 or under 20", breaths},
		ranges.MareInFoal:         {adult, "usual 30-55 /min; recheck from 61 or under 24; tell the vet from 71 or under 20", breaths},
		ranges.Draft:              {adult, "usual 28-44 /min; recheck from 49 or under 24; tell the vet from 60 or under 20", breaths},
		ranges.Pony:               {adult, "usual 32-48 /min; recheck from 51 or under 24; tell the vet from 60 or under 20", breaths},
		ranges.Miniature:          {adult, "usual 40-60 /min; recheck from 61 or under 24; tell the vet from 71 or under 20", "usual 8-20 /min; recheck from 25; tell the vet from 36 or under 4"},
		ranges.SmallMareInFoal:    {adult, "usual 40-65 /min; recheck from 66 or under 24; tell the vet from 72 or under 20", breaths},
		ranges.DonkeyAdult:        {"usual 36.2-37.8 C; recheck from 37.9; tell the vet from 38.1 or under 36.2", "usual 31-53 /min; recheck from 54 or under 28; tell the vet from 60 or under 24", "usual 12-32 /min; recheck from 33; tell the vet from 46 or under 4"},
		ranges.DonkeyYoung:        {"usual 36.2-38.6 C; recheck from 38.7; tell the vet from 39.2 or under 36.2", "usual 40-75 /min; recheck from 76 or under 40; tell the vet from 81 or under 30", youngDonkey},
		ranges.DonkeyFirstDay:     {"usual 37.5-38.5 C; recheck from 38.6 or under 37.5; tell the vet from 39.0 or under 37.2", newbornHeart, "recheck from 81; tell the vet from 100 or under 10"},
		ranges.DonkeyNewborn:      {"usual 37.5-38.5 C; recheck from 38.6 or under 37.5; tell the vet from 39.0 or under 37.2", newbornHeart, "recheck from 41; tell the vet from 61 or under 10"},
		ranges.DonkeyFirstMonth:   {donkeyFoal, monthFoal[1], youngDonkey},
		ranges.DonkeyToSixMonths:  {donkeyFoal, oldFoal[1], youngDonkey},
		ranges.DonkeyFoalUnknown:  {"usual 37.5-38.5 C; recheck from 38.6 or under 37.5; tell the vet from 39.0 or under 37.2", unknownHeart, "usual 20-40 /min; recheck from 41 or under 20; tell the vet from 60 or under 10"},
		ranges.Mule:               {"usual 37.0-38.3 C; recheck from 38.6; tell the vet from 39.2 or under 36.0", "usual 28-44 /min; recheck from 49 or under 20; tell the vet from 60 or under 16", "usual 8-20 /min; recheck from 21; tell the vet from 30 or under 4"},
		ranges.MuleFoalFirstDay:   {muleFoal, muleHeart, "usual 38-62 /min; recheck from 63; tell the vet from 81 or under 10"},
		ranges.MuleFoalFirstWeek:  {muleFoal, muleHeart, foalBreaths},
		ranges.MuleFoalFirstMonth: monthFoal,
		ranges.MuleFoalSixMonths:  oldFoal,
		ranges.MuleWeanling:       weanling,
		ranges.MuleFoalUnknown:    {"usual 37.5-38.4 C; recheck from 38.6; tell the vet from 39.0 or under 37.2", unknownHeart, foalBreaths},
		ranges.FoalFirstHour:      {"usual 37.2-38.9 C; recheck under 37.2; tell the vet from 39.0 or under 36.5", "usual 60-169 /min; recheck from 170; tell the vet from 200 or under 60", "usual 30-90 /min; recheck from 91 or under 30; tell the vet from 100 or under 10"},
		ranges.FoalFirstHours:     {foalTemp, "usual 70-140 /min; recheck from 141; tell the vet from 150 or under 70", dayBreaths},
		ranges.FoalFirstDay:       {foalTemp, newbornHeart, dayBreaths},
		ranges.FoalFirstWeek:      {foalTemp, newbornHeart, foalBreaths},
		ranges.FoalFirstMonth:     monthFoal,
		ranges.FoalToSixMonths:    oldFoal,
		ranges.FoalAgeUnknown:     {foalTemp, unknownHeart, foalBreaths},
		ranges.Weanling:           weanling,
		ranges.Yearling:           {"usual 37.0-38.5 C; recheck from 38.6 or under 36.5; tell the vet from 39.2 or under 36.0", "usual 40-60 /min; recheck from 61 or under 30; tell the vet from 73 or under 24", "usual 8-20 /min; recheck from 21; tell the vet from 30 or under 4"},
		ranges.TwoThree:           {adult, "usual 30-50 /min; recheck from 56 or under 24; tell the vet from 66 or under 20", breaths},
	} {
		for i, m := range []ranges.Measure{ranges.TempRectal, ranges.HeartRate, ranges.BreathRate} {
			row, ok := builtIn(t).Lookup(m, class, m.Units()[0])
			require.True(t, ok, "%s of %s", m, class)
			assert.Equal(t, want[i], row.Brief(), "%s of %s", m, class)
		}
		row, ok := builtIn(t).Lookup(ranges.GumRefill, class, ranges.Seconds)
		require.True(t, ok, class)
		assert.Equal(t, "usual up to 2 s; recheck from 2.1; tell the vet from 3.1", row.Brief(), class)
	}
}

// The strictest limit of any age of foal stands for a foal whose age is not known, after the first hours of life, in which
// somebody was there.
func TestAgeNotKnownIsTheStrictest(t *testing.T) {
	for unknown, ages := range map[ranges.Class][]ranges.Class{
		ranges.FoalAgeUnknown:    {ranges.FoalFirstDay, ranges.FoalFirstWeek, ranges.FoalFirstMonth, ranges.FoalToSixMonths},
		ranges.DonkeyFoalUnknown: {ranges.DonkeyNewborn, ranges.DonkeyFirstMonth, ranges.DonkeyToSixMonths},
		ranges.MuleFoalUnknown:   {ranges.MuleFoalFirstWeek, ranges.MuleFoalFirstMonth, ranges.MuleFoalSixMonths},
	} {
		for _, m := range []ranges.Measure{ranges.TempRectal, ranges.HeartRate, ranges.BreathRate, ranges.GumRefill} {
			strict, ok := builtIn(t).Lookup(m, unknown, m.Units()[0])
			require.True(t, ok)
			for _, age := range ages {
				row, _ := builtIn(t).Lookup(m, age, m.Units()[0])
				for v := 0.0; v < 200; v += 0.1 {
					want, _, _ := row.Level(v)
					got, _, _ := strict.Level(v)
					if want > ranges.LevelNote && got < want {
						t.Fatalf("%s %v: %s in %s, %s in %s", m, v, want, age, got, unknown)
					}
				}
			}
		}
	}
}
