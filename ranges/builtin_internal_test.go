package ranges

import (
	"strings"
	"testing"

	"loosebox/ranges/csvfile"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A built-in row is held to more than a practice's: its source must be known and strong enough for its evidence word.
func TestBuiltInRowsAreHeldToTheirSources(t *testing.T) {
	sources := map[string]Source{
		"GOOD": {"GOOD", "a paper", Published}, "PAGE": {"PAGE", "a practice", PracticePage},
		"NOTES": {"NOTES", "habit", CommonPractice}, "MEMORY": {"MEMORY", "none", FromMemory},
	}
	for name, c := range map[string]struct{ row, want string }{
		"published paper":        {"heart.rate,pony,/min,30,46,GOOD,published,,,,,,,,,", ""},
		"weaker than its source": {"heart.rate,pony,/min,30,46,GOOD,from memory,,,,,,,,,", ""},
		"two sides":              {"heart.rate,pony,/min,30,46,MEMORY|GOOD,from memory|published,,,,,,,,,", ""},
		"unknown source":         {"heart.rate,pony,/min,30,46,OTHER,published,,,,,,,,,", `source "OTHER" is not in sources.csv`},
		"practice page":          {"heart.rate,pony,/min,30,46,PAGE,practice page,,,,,,,,,", ""},
		"page as published":      {"heart.rate,pony,/min,30,46,PAGE,published,,,,,,,,,", `a source of the tier "practice page" does not carry "published"`},
		"habit as a page":        {"heart.rate,pony,/min,30,46,NOTES,practice page,,,,,,,,,", `a source of the tier "common practice" does not carry "practice page"`},
		"memory as practice":     {"heart.rate,pony,/min,30,46,MEMORY,common practice,,,,,,,,,", `a source of the tier "from memory" does not carry "common practice"`},
		"weak side hidden":       {"heart.rate,pony,/min,30,46,MEMORY|GOOD,published,,,,,,,,,", `a source of the tier "from memory" does not carry "published"`},
		"no usual, a limit":      {"heart.rate,pony,/min,,,,,,60,GOOD,published,,,,,", ""},
		"nothing at all":         {"heart.rate,pony,/min,,,,,,,,,,,,,", "neither a low nor a high value is given"},
		"no evidence":            {"heart.rate,pony,/min,30,46,GOOD,,,,,,,,,,", `evidence "" is not known`},
		"practice's evidence":    {"heart.rate,pony,/min,30,46,GOOD,practice's own,,,,,,,,,", `evidence "practice's own" is not known`},
		"source without a limit": {"heart.rate,pony,/min,30,46,GOOD,published,,,GOOD,,,,,,", "a source or evidence without a limit"},
	} {
		bad := newError("table.csv")
		records, err := csvfile.Read(strings.NewReader(strings.Join(columns(), ",")+"\n"+c.row+"\n"), columns(), bad)
		require.NoError(t, err, name)
		p := parser{origin: OriginBuiltIn, sources: sources, bad: bad}
		rows := p.rows(records)
		if c.want == "" {
			require.NoError(t, bad.OrNil(), name)
			assert.Len(t, rows, 1, name)
			continue
		}
		require.ErrorContains(t, bad.OrNil(), c.want, name)
		assert.Empty(t, rows, name)
	}
}

// F = 1.8 C + 32 exactly (NIST SP 811, appendix B): the fixed points of water, the crossing at -40, and body heat.
func TestTemperatureConversion(t *testing.T) {
	for c, f := range map[float64]float64{0: 32, 100: 212, -40: -40, 37: 98.6, 38.5: 101.3, 39.2: 102.56} {
		assert.InDelta(t, f, toFahrenheit(c), 1e-9)
		assert.InDelta(t, c, toCelsius(f), 1e-6)
	}
	// A slip seen in a source: 36.5 C printed as 97.2 F (it is 97.7), 36.2 C as 97.0 F (it is 97.2). Both are refused.
	assert.False(t, pairAgrees(36.5, 97.2, false))
	assert.True(t, pairAgrees(36.5, 97.7, false))
	assert.False(t, pairAgrees(36.2, 97.0, false))
	assert.True(t, pairAgrees(36.2, 97.2, false))
	// "Above 102.0 F (38.9 C)" is from 102.1 F and from 39.0 C; as edges that are themselves inside they do not agree.
	assert.True(t, pairAgrees(39.0, 102.1, true))
	assert.False(t, pairAgrees(39.0, 102.1, false))
}

// A line of lent.csv that cannot stand says what is wrong with it, and a class that got a row of its own is named as that.
func TestALoanThatCannotStandSaysWhy(t *testing.T) {
	table, err := BuiltIn()
	require.NoError(t, err)
	own := loan{AdultLight, "no figure was read."}
	for want, at := range map[string]struct {
		pair
		loan
	}{
		"":                      {pair{SkinTent, DonkeyAdult}, own},
		"measure or the class":  {pair{"hoof.length", Pony}, own},
		"on an earlier line":    {pair{TempRectal, MareInFoal}, own},
		"a row of its own: lea": {pair{HeartRate, Pony}, own},
		"no row of its own to":  {pair{SkinTent, DonkeyAdult}, loan{DonkeyYoung, "no figure was read."}},
		"the reason is missing": {pair{SkinTent, DonkeyAdult}, loan{AdultLight, ""}},
	} {
		said := table.wrongLoan(at.pair, at.loan)
		assert.Contains(t, said, want)
		assert.Equal(t, want == "", said == "", said)
	}
}
