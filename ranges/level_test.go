package ranges_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/ranges"
)

func TestLevelWords(t *testing.T) {
	// The four words and their order are the design's.
	words := []string{"usual", "note", "recheck", "tell the vet"}
	for i, w := range words {
		assert.Equal(t, w, ranges.Level(i).String())
		text, err := ranges.Level(i).MarshalText()
		require.NoError(t, err)
		assert.Equal(t, w, string(text))
	}
	assert.Equal(t, "level 9", ranges.Level(9).String())
}

// Float noise must not decide: 2.0 reached by sums and products is still usual, 3.1 is still over 3.
func TestLevelIgnoresNoise(t *testing.T) {
	row, ok := builtIn(t).Lookup(ranges.GumRefill, ranges.AdultLight, ranges.Seconds)
	require.True(t, ok)
	sum := 0.0
	for range 20 {
		sum += 0.1
	}
	for v, want := range map[float64]ranges.Level{
		sum: ranges.LevelUsual, 2.0000000001: ranges.LevelUsual, 1.9999999999: ranges.LevelUsual,
		3.0000000001: ranges.LevelRecheck, 2.9999999999: ranges.LevelRecheck, 3.0999999999: ranges.LevelTell,
		2.04: ranges.LevelUsual, 2.06: ranges.LevelRecheck,
	} {
		got, _, _ := row.Level(v)
		assert.Equal(t, want, got, v)
	}
}

func TestLevelOfNoNumber(t *testing.T) {
	row, ok := builtIn(t).Lookup(ranges.HeartRate, ranges.AdultLight, ranges.PerMinute)
	require.True(t, ok)
	level, _, side := row.Level(math.NaN())
	assert.Equal(t, ranges.LevelRecheck, level)
	assert.Empty(t, side)
	level, _, side = row.Level(math.Inf(1))
	assert.Equal(t, ranges.LevelTell, level)
	assert.Equal(t, ranges.SideHigh, side)
	level, _, side = row.Level(math.Inf(-1))
	assert.Equal(t, ranges.LevelTell, level)
	assert.Equal(t, ranges.SideLow, side)
}

// The further a value lies from usual, the higher its level or the same; the limit given back is on the side crossed.
func TestLevelRises(t *testing.T) {
	rows := builtIn(t).Rows()
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SampledFrom(rows).Draw(t, "row")
		tenths := rapid.IntRange(0, 2500).Draw(t, "tenths")
		further := rapid.IntRange(0, 500).Draw(t, "further")
		v := float64(tenths) / 10
		level, crossed, side := row.Level(v)
		if level == ranges.LevelUsual {
			if side != "" {
				t.Fatalf("usual on side %q", side)
			}
			return
		}
		if _, ok := crossed.Edge(side); !ok {
			t.Fatalf("no edge on side %q", side)
		}
		w := v + float64(further)/10
		if side == ranges.SideLow {
			w = v - float64(further)/10
		}
		if beyond, _, _ := row.Level(w); beyond < level {
			t.Fatalf("%v is %s, %v is %s", v, level, w, beyond)
		}
	})
}

func TestExplain(t *testing.T) {
	table := builtIn(t)
	row, _ := table.Lookup(ranges.HeartRate, ranges.AdultLight, ranges.PerMinute)
	assert.Equal(t, "usual 28-44 /min; recheck from 49 or under 24; tell the vet from 60 or under 20", row.Brief())
	assert.Equal(t, "usual from 28 (BREUER, published) to 44 /min (BELL, practice page); recheck from 49 (NEWC2, practice page) or under 24 (PROV1, common practice); "+
		"tell the vet from 60 (BREUER, published) or under 20 (PROV5, common practice)", row.Explain())
	row, _ = table.Lookup(ranges.TempRectal, ranges.DonkeyAdult, ranges.Celsius)
	assert.Equal(t, "usual 36.2-37.8 C; recheck from 37.9; tell the vet from 38.1 or under 36.2", row.Brief())
	assert.Equal(t, "usual 97.16-100.04 F (COUMBE, published); recheck from 100.22 (COUMBE, common practice); "+
		"tell the vet from 100.58 (WVS, common practice) or under 97.16 (STEPH00, common practice)", ranges.ExplainIn(row, ranges.Fahrenheit))
	assert.Empty(t, ranges.ExplainIn(row, ranges.Seconds))
	row, _ = table.Lookup(ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute)
	assert.Equal(t, "usual from 60 (VINFOAL, common practice) to 169 /min; recheck from 170; tell the vet from 200 "+
		"(NAGEL15, common practice) or under 60 (VINFOAL, published)", row.Explain())
	row, _ = table.Lookup(ranges.BreathRate, ranges.DonkeyNewborn, ranges.PerMinute)
	assert.Equal(t, "recheck from 41; tell the vet from 61 or under 10", row.Brief(), "no usual figure was read")
	row, _ = table.Lookup(ranges.SkinTent, ranges.AdultLight, ranges.Seconds)
	assert.Equal(t, "usual up to 2 s", row.Brief())
}

// Each limit stands beside its own source: two ends with one source are one line, two sources are two.
func TestBackings(t *testing.T) {
	table := builtIn(t)
	row, _ := table.Lookup(ranges.HeartRate, ranges.AdultLight, ranges.PerMinute)
	assert.Equal(t, []ranges.Backing{
		{"usual from 28", "BREUER", published},
		{"usual to 44", "BELL", page},
		{"recheck under 24", "PROV1", common},
		{"recheck from 49", "NEWC2", page},
		{"tell the vet under 20", "PROV5", common},
		{"tell the vet from 60", "BREUER", published},
	}, row.Backings())
	for _, r := range table.Rows() {
		edges := 0
		for _, l := range limits(r) {
			for _, side := range sides() {
				if _, ok := l.Edge(side); ok {
					edges++
				}
			}
		}
		said := 0
		for _, b := range r.Backings() {
			said += 1 + strings.Count(b.Text, " or ")
			if strings.HasPrefix(b.Text, "usual") && strings.Contains(b.Text, " to ") && strings.Contains(b.Text, "from") {
				said++
			}
			_, ok := table.Source(b.Source)
			assert.True(t, ok, "%s: %s", r.Class, b.Text)
		}
		assert.Equal(t, edges, said, "%s %s", r.Measure, r.Class)
	}
}
