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

// A range is never borrowed: a miniature's rates, a weanling's temperature and anything of a mule foal are not held.
func TestNotBorrowed(t *testing.T) {
	table := builtIn(t)
	_, ok := table.Lookup(ranges.HeartRate, ranges.Miniature, ranges.PerMinute)
	assert.False(t, ok)
	why, ok := table.Absent(ranges.HeartRate, ranges.Miniature)
	assert.True(t, ok)
	assert.Contains(t, why, "weak")
	for _, m := range ranges.Measures() {
		_, ok := table.Lookup(m, ranges.MuleFoal, m.Units()[0])
		assert.False(t, ok, m)
	}
	for _, u := range []ranges.Unit{ranges.Celsius, ranges.Fahrenheit, ranges.Seconds, "K", ""} {
		_, ok := table.Lookup(ranges.HeartRate, ranges.AdultLight, u)
		assert.False(t, ok, u)
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

// A source of weight A or B, read, may be published; C is common practice; the rest is from memory. A word weaker than
// its source allows says so in the row.
func TestEvidenceFitsSource(t *testing.T) {
	table := builtIn(t)
	strongest := map[string]ranges.Evidence{
		"A": ranges.Published, "B": ranges.Published, "C": ranges.CommonPractice, "T": ranges.CommonPractice, "M": ranges.FromMemory,
	}
	rank := map[ranges.Evidence]int{ranges.FromMemory: 1, ranges.CommonPractice: 2, ranges.Published: 3}
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
				allowed := strongest[source.Weight]
				require.NotEmpty(t, allowed)
				assert.LessOrEqual(t, rank[s.Evidence], rank[allowed], "%s line %d %s", r.File, r.Line, name)
				if r.Class == ranges.AdultLight {
					assert.Equal(t, allowed, s.Evidence, "%s line %d %s", r.File, r.Line, name)
				}
				if s.Evidence != allowed {
					assert.Contains(t, r.Words, string(s.Evidence), "%s line %d %s", r.File, r.Line, name)
				}
			}
		}
	}
}

// Codes named in the words of a row or of an absence are sources too, so that a person can follow them.
func TestCodesInWords(t *testing.T) {
	table := builtIn(t)
	words := map[string]bool{"UK": true, "PCV": true}
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
