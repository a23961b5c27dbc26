package ranges_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

func limits(r ranges.Row) map[string]ranges.Limit {
	return map[string]ranges.Limit{"usual": r.Usual, "recheck": r.Recheck, "tell": r.Tell}
}

func sides() []string { return []string{ranges.SideLow, ranges.SideHigh} }

// Every class and measure is held or declared absent, never both and never neither.
func TestCovered(t *testing.T) {
	table := builtIn(t)
	for _, m := range ranges.Measures() {
		for _, c := range ranges.Classes() {
			for _, u := range m.Units() {
				_, held := table.Lookup(m, c, u)
				why, absent := table.Absent(m, c)
				assert.NotEqual(t, held, absent, "%s of %s in %s", m, c, u)
				assert.Equal(t, absent, why != "", "%s of %s", m, c)
			}
		}
	}
	_, ok := table.Absent("gum.colour", ranges.Pony)
	assert.False(t, ok)
	_, ok = table.Absent(ranges.HeartRate, "unicorn")
	assert.False(t, ok)
}

// A class that was never measured is lent another one's row, and says so: whose, why, and common practice at most.
func TestLent(t *testing.T) {
	table, lent := builtIn(t), 0
	for _, r := range table.Rows() {
		if r.From == "" {
			continue
		}
		lent++
		assert.NotEqual(t, r.Class, r.From)
		assert.Contains(t, r.Words, string(r.From), r.Class)
		from, ok := table.Lookup(r.Measure, r.From, r.Unit)
		require.True(t, ok)
		for name, l := range limits(r) {
			for _, side := range sides() {
				v, has := l.Edge(side)
				w, hasFrom := limits(from)[name].Edge(side)
				assert.Equal(t, hasFrom, has)
				assert.InDelta(t, w, v, 0)
				if has {
					assert.True(t, ranges.CommonPractice.Carries(l.On(side).Evidence), "%s %s: %s", r.Class, name, l.On(side).Evidence)
				}
			}
		}
	}
	assert.Greater(t, lent, 30)
	for _, u := range []ranges.Unit{ranges.Celsius, ranges.Fahrenheit, ranges.Seconds, "K", ""} {
		_, ok := table.Lookup(ranges.HeartRate, ranges.AdultLight, u)
		assert.False(t, ok, u)
	}
}

// A practice's own row for a class that is only lent one stands for it; a row that is lent on goes on being lent.
func TestPracticeAndLent(t *testing.T) {
	file := header + "heart.rate,\"mule foal, 1 to 4 weeks\",/min,50,110,ours,,,,,,,,,,\n" +
		"breath.rate,adult light horse,/min,6,18,ours,,,25,ours,,,,,,\n"
	own, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.NoError(t, err)
	row, _ := own.Lookup(ranges.HeartRate, ranges.MuleFoalFirstMonth, ranges.PerMinute)
	assert.Empty(t, row.From)
	assert.Equal(t, ranges.OriginPractice, row.Origin)
	row, _ = own.Lookup(ranges.BreathRate, ranges.MareInFoal, ranges.PerMinute)
	assert.Equal(t, ranges.AdultLight, row.From)
	assert.InDelta(t, 18, *row.Usual.High, 0)
	assert.Equal(t, ranges.PracticeOwn, row.Usual.Evidence)
	assert.Len(t, own.Rows(), len(builtIn(t).Rows()))
}

// Every class has limits to look again and to tell the veterinarian: temperature and heart both ways, breathing and
// refill. What lies at the edge of what an instrument or a count can give is told.
func TestNoClassGoesUnjudged(t *testing.T) {
	table := builtIn(t)
	for _, c := range ranges.Classes() {
		for _, e := range []struct {
			measure ranges.Measure
			unit    ranges.Unit
			values  []float64
		}{
			{ranges.TempRectal, ranges.Celsius, []float64{30, 35.9, 41.0, 43}},
			{ranges.TempRectal, ranges.Fahrenheit, []float64{86, 96.7, 105.8, 109}},
			{ranges.HeartRate, ranges.PerMinute, []float64{5, 10, 201, 300}},
			{ranges.BreathRate, ranges.PerMinute, []float64{1, 3, 101, 250}},
			{ranges.GumRefill, ranges.Seconds, []float64{4, 30}},
		} {
			row, ok := table.Lookup(e.measure, c, e.unit)
			require.True(t, ok, "%s of %s", e.measure, c)
			for _, v := range e.values {
				level, _, _ := row.Level(v)
				assert.Equal(t, ranges.LevelTell, level, "%s of %s at %v", e.measure, c, v)
			}
			_, recheck := row.Recheck.Edge(ranges.SideHigh)
			tellAt, _ := row.Tell.Edge(ranges.SideHigh)
			usualTo, _ := row.Usual.Edge(ranges.SideHigh)
			assert.True(t, recheck || tellAt-usualTo < 0.11*float64(1), "%s of %s asks to look again before it tells", e.measure, c)
		}
	}
}

// tell.low <= recheck.low <= usual.low <= usual.high < recheck.high <= tell.high, where they are there.
func TestOrderOfLimits(t *testing.T) {
	for _, r := range builtIn(t).Rows() {
		var edges []float64
		for _, e := range []*float64{r.Tell.Low, r.Recheck.Low, r.Usual.Low, r.Usual.High, r.Recheck.High, r.Tell.High} {
			if e != nil {
				edges = append(edges, *e)
			}
		}
		assert.IsNonDecreasing(t, edges, "%s line %d", r.File, r.Line)
		for _, from := range []*float64{r.Recheck.High, r.Tell.High} {
			if from != nil && r.Usual.High != nil {
				assert.Greater(t, *from, *r.Usual.High, "%s line %d", r.File, r.Line)
			}
		}
	}
}

// F = 1.8 C + 32 exactly (NIST SP 811 appendix B). Every pair is the same limit at the thermometer's step of 0.1: one
// edge is the other, converted and rounded, or, for "above X", X is.
func TestPairsAgree(t *testing.T) {
	same := func(c, f float64) bool {
		round := func(v float64) float64 { return math.Round(v*10) / 10 }
		return math.Abs(round(1.8*c+32)-f) < 1e-9 || math.Abs(round((f-32)/1.8)-c) < 1e-9
	}
	table, pairs := builtIn(t), 0
	for _, c := range ranges.Classes() {
		inC, ok := table.Lookup(ranges.TempRectal, c, ranges.Celsius)
		inF, okF := table.Lookup(ranges.TempRectal, c, ranges.Fahrenheit)
		require.Equal(t, ok, okF, c)
		assert.Equal(t, inC.Words, inF.Words, c)
		for name, l := range limits(inC) {
			for _, side := range sides() {
				vc, ok := l.Edge(side)
				vf, okF := limits(inF)[name].Edge(side)
				require.Equal(t, ok, okF, "%s %s %s", c, name, side)
				if !ok {
					continue
				}
				pairs++
				above := name != "usual" && side == ranges.SideHigh
				assert.True(t, same(vc, vf) || above && same(math.Round(vc*10-1)/10, math.Round(vf*10-1)/10),
					"%s %s %s: %v C, %v F", c, name, side, vc, vf)
				assert.Equal(t, l.On(side), limits(inC)[name].On(side))
				assert.Equal(t, l.On(side).Source, limits(inF)[name].On(side).Source)
			}
		}
	}
	assert.Greater(t, pairs, 50)
}

// An evidence word is never stronger than the tier of its source; one that is weaker says so in the row.
func TestEvidenceFitsSource(t *testing.T) {
	table := builtIn(t)
	for _, r := range table.Rows() {
		assert.Equal(t, ranges.OriginBuiltIn, r.Origin)
		assert.NotEmpty(t, r.Words, "%s line %d", r.File, r.Line)
		for name, l := range limits(r) {
			for _, side := range sides() {
				if _, ok := l.Edge(side); !ok {
					continue
				}
				s := l.On(side)
				source, ok := table.Source(s.Source)
				require.True(t, ok, "%s line %d: %s", r.File, r.Line, s.Source)
				assert.True(t, source.Tier.Carries(s.Evidence), "%s line %d %s: %s on %s", r.File, r.Line, name, s.Evidence, s.Source)
				if s.Evidence != source.Tier {
					assert.Contains(t, strings.ToLower(r.Words), string(s.Evidence), "%s line %d %s", r.File, r.Line, name)
				}
			}
		}
	}
}

// What kinds of page are never a source, whatever they say.
func TestKindsOfPagesLeftOut(t *testing.T) {
	for _, code := range builtIn(t).SourceCodes() {
		text := strings.ToLower(builtIn(t).Cite(code))
		for _, kind := range []string{
			"flashcard", "brainscape", "freezingblue", "gizmo", "slideplayer", "blogspot", "homestead", "coursera", "hobby", "stable page",
			"exam cards", "horseandhound", "mdwiki", "video", "medic.studio", "not named", "thehorseaholic", "breyer", "lilbeginnings", "knowt", "quizlet",
		} {
			assert.NotContains(t, text, kind, code)
		}
		if source, _ := builtIn(t).Source(code); source.Tier == ranges.Published || source.Tier == ranges.PracticePage {
			for _, host := range []string{"studylib", "scribd", "flipbuilder", "docplayer", "anyflip", "doczz", "slideshare", "docslib", "pdfroom"} {
				if strings.Contains(text, host) {
					assert.Contains(t, text, "read in an upload copy", code)
				}
			}
		}
	}
}

// The counts are held so that a change shows. In the tables of 2026-11-29 before, with 18 classes and practice pages called
// published: usual 50 published, 45 common practice, 8 from memory; limits 29, 51, 3.
func TestTiers(t *testing.T) {
	usual, limit := builtIn(t).Tiers("")
	assert.Equal(t, ranges.Shares{published: 32, page: 14, common: 168}, usual)
	assert.Equal(t, ranges.Shares{published: 33, page: 3, common: 300, memory: 26}, limit)
	usual, limit = builtIn(t).Tiers(ranges.AdultLight)
	assert.Equal(t, ranges.Shares{published: 5, page: 3}, usual)
	assert.Equal(t, 8, usual.Sum())
	assert.Equal(t, ranges.Shares{published: 7, page: 2, common: 3, memory: 1}, limit)
}

// Codes named in the words of a row or of an absence are sources too, so that a person can follow them.
func TestCodesInWords(t *testing.T) {
	table := builtIn(t)
	words := map[string]bool{"UK": true, "PCV": true, "SD": true}
	check := func(text string) {
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;:()", r) }) {
			w = strings.Trim(w, ".")
			if len(w) < 2 || w != strings.ToUpper(w) || w == strings.ToLower(w) || words[w] {
				continue
			}
			_, ok := table.Source(w)
			assert.True(t, ok, "%s in %q", w, text)
		}
	}
	for _, r := range table.Rows() {
		check(r.Words)
	}
	for _, m := range ranges.Measures() {
		for _, c := range ranges.Classes() {
			why, _ := table.Absent(m, c)
			check(why)
		}
	}
}

// What a terminal of any kind shows: plain ASCII without control characters.
func TestASCII(t *testing.T) {
	for _, r := range builtIn(t).Rows() {
		for _, s := range []string{r.Words, r.Explain(), r.Brief()} {
			assert.False(t, strings.ContainsFunc(s, func(c rune) bool { return c < ' ' || c > '~' }), s)
		}
	}
}

func TestSources(t *testing.T) {
	table := builtIn(t)
	assert.Contains(t, table.Cite("NAGEL15"), "Vet J 2015;203:250-252")
	assert.Equal(t, "NOSUCH", table.Cite("NOSUCH"))
	_, ok := table.Source("NOSUCH")
	assert.False(t, ok)
}

func TestRowsInOrder(t *testing.T) {
	table := builtIn(t)
	rows := table.Rows()
	require.NotEmpty(t, rows)
	assert.Equal(t, ranges.TempRectal, rows[0].Measure)
	assert.Equal(t, ranges.AdultLight, rows[0].Class)
	assert.Equal(t, ranges.SkinTent, rows[len(rows)-1].Measure)
	assert.Equal(t, rows, table.Rows())
	for _, r := range rows {
		got, ok := table.Lookup(r.Measure, r.Class, r.Unit)
		assert.True(t, ok)
		assert.Equal(t, r, got)
	}
}

func BenchmarkBuiltIn(b *testing.B) {
	for b.Loop() {
		if _, err := ranges.BuiltIn(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLookup(b *testing.B) {
	table := builtIn(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := table.Lookup(ranges.HeartRate, ranges.FoalFirstWeek, ranges.PerMinute); !ok {
			b.Fatal("no row")
		}
	}
}
