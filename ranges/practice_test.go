package ranges_test

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

const header = "measure,class,unit,usual_low,usual_high,usual_source,usual_evidence," +
	"recheck_low,recheck_high,recheck_source,recheck_evidence,tell_low,tell_high,tell_source,tell_evidence,words\n"

func TestPracticeRowReplaces(t *testing.T) {
	table := builtIn(t)
	file := header + `heart.rate,miniature horse,/min,36,52,"Dr A. Example, 2026",,,60,protocol 4,published,24,70,protocol 4|LAT36,,our minis
heart.rate,adult light horse,/min,26,42,protocol 4,,,,,,,,,,
`
	own, err := table.With(strings.NewReader(file), "ours.csv")
	require.NoError(t, err)

	row, ok := own.Lookup(ranges.HeartRate, ranges.Miniature, ranges.PerMinute)
	require.True(t, ok)
	assert.Equal(t, ranges.OriginPractice, row.Origin)
	assert.Equal(t, 2, row.Line)
	assert.Equal(t, "ours.csv", row.File)
	assert.Equal(t, "our minis", row.Words)
	for _, l := range limits(row) {
		assert.Equal(t, ranges.PracticeOwn, l.On(ranges.SideLow).Evidence)
		assert.Equal(t, ranges.PracticeOwn, l.On(ranges.SideHigh).Evidence)
	}
	_, absent := own.Absent(ranges.HeartRate, ranges.Miniature)
	assert.False(t, absent)
	source, ok := own.Source("Dr A. Example, 2026")
	assert.True(t, ok)
	assert.Equal(t, ranges.PracticeOwn, source.Tier)
	assert.Contains(t, own.Cite("LAT36"), "when to call", "a code of ours keeps its text")

	// The whole row is replaced: a limit left empty is no limit.
	row, _ = own.Lookup(ranges.HeartRate, ranges.AdultLight, ranges.PerMinute)
	assert.True(t, row.Tell.Empty())

	// The table it was laid over is as it was.
	row, _ = table.Lookup(ranges.HeartRate, ranges.Miniature, ranges.PerMinute)
	assert.Equal(t, ranges.OriginBuiltIn, row.Origin)
	_, ok = table.Source("protocol 4")
	assert.False(t, ok)
	row, _ = table.Lookup(ranges.HeartRate, ranges.AdultLight, ranges.PerMinute)
	assert.Equal(t, ranges.OriginBuiltIn, row.Origin)
}

// A temperature in one unit replaces both built-in rows; in the other unit it is converted by F = 1.8 C + 32 (NIST).
func TestPracticeTemperatureConverts(t *testing.T) {
	file := header + "temp.rectal,adult light horse,C,37.0,38.3,protocol 4,,,38.5,protocol 4,,36.5,39.0,protocol 4,,\n"
	own, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.NoError(t, err)
	row, ok := own.Lookup(ranges.TempRectal, ranges.AdultLight, ranges.Fahrenheit)
	require.True(t, ok)
	assert.Equal(t, ranges.Fahrenheit, row.Unit)
	assert.Equal(t, ranges.OriginPractice, row.Origin)
	assert.Equal(t, "protocol 4", row.Tell.Source)
	assert.InDelta(t, 102.2, *row.Tell.High, 1e-12)
	assert.InDelta(t, 100.94, *row.Usual.High, 1e-12)
	for v, want := range map[float64]ranges.Level{
		102.2: ranges.LevelTell, 102.1: ranges.LevelRecheck, 101.3: ranges.LevelRecheck, 101.2: ranges.LevelNote,
		100.9: ranges.LevelUsual, 101.0: ranges.LevelNote, 98.6: ranges.LevelUsual, 97.7: ranges.LevelNote, 97.6: ranges.LevelTell,
	} {
		level, _, _ := row.Level(v)
		assert.Equal(t, want, level, v)
	}
	inC, _ := own.Lookup(ranges.TempRectal, ranges.AdultLight, ranges.Celsius)
	assert.InDelta(t, 39.0, *inC.Tell.High, 0, "converting leaves the row held as it is")
}

func TestPracticeFahrenheitConverts(t *testing.T) {
	file := header + "temp.rectal,weanling, 6 to 12 months,F,99,101.5,protocol 4,,,,,,,,,,\n"
	_, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.ErrorContains(t, err, "ours.csv:2: 17 columns instead of 16", "a class with a comma needs quotes")
	file = strings.Replace(file, "weanling, 6 to 12 months", `"weanling, 6 to 12 months"`, 1)
	own, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.NoError(t, err)
	row, ok := own.Lookup(ranges.TempRectal, ranges.Weanling, ranges.Celsius)
	require.True(t, ok)
	assert.InDelta(t, (101.5-32)*5/9, *row.Usual.High, 1e-6)
	level, _, _ := row.Level(38.6)
	assert.Equal(t, ranges.LevelUsual, level, "101.5 F is 38.61 C")
	level, _, _ = row.Level(38.7)
	assert.Equal(t, ranges.LevelNote, level)
}

// What spreadsheets do to a file without changing what it says.
func TestPracticeFileFormats(t *testing.T) {
	row := "heart.rate,pony,/min,30,46,protocol 4,,,,,,,,,,\n"
	for name, file := range map[string]string{
		"plain":            header + row,
		"BOM":              "\uFEFF" + header + row,
		"CRLF":             strings.ReplaceAll(header+row, "\n", "\r\n"),
		"BOM and CRLF":     "\uFEFF" + strings.ReplaceAll(header+row, "\n", "\r\n"),
		"comments":         "# ours, 2026\n\n" + header + "# ponies\n" + row + "# end\n",
		"quoted comment":   "\"# ours, 2026\",,\n" + header + row,
		"empty rows":       header + ",,,,,,,,,,,,,,,\n" + row + "\n\n",
		"capitals, spaces": strings.ToUpper(header) + strings.ReplaceAll(row, ",", " , "),
		"no last newline":  header + strings.TrimSuffix(row, "\n"),
		"quoted cells":     header + `"heart.rate","pony","/min","30","46","protocol 4","","","","","","","","","",""`,
	} {
		own, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
		require.NoError(t, err, name)
		got, _ := own.Lookup(ranges.HeartRate, ranges.Pony, ranges.PerMinute)
		assert.Equal(t, ranges.OriginPractice, got.Origin, name)
		assert.InDelta(t, 46, *got.Usual.High, 0, name)
	}
}

// A file that names its columns and holds no row yet changes nothing.
func TestPracticeFileWithoutRows(t *testing.T) {
	table := builtIn(t)
	own, err := table.With(strings.NewReader(header+"# none yet\n"), "ours.csv")
	require.NoError(t, err)
	assert.Equal(t, table.Rows(), own.Rows())
}

func TestPracticeFileRefused(t *testing.T) {
	good := "heart.rate,pony,/min,30,46,protocol 4,,,,,,,,,,\n"
	long := strings.Repeat("x", 10_000)
	for name, c := range map[string]struct{ row, want string }{
		"unknown measure":    {"heart.beat,pony,/min,30,46,p,,,,,,,,,,", `measure "heart.beat" is not known`},
		"unknown class":      {"heart.rate,ponny,/min,30,46,p,,,,,,,,,,", `class "ponny" is not known ("pony" or "pony or miniature mare, last 3 months in foal"?)`},
		"unknown unit":       {"temp.rectal,pony,K,30,46,p,,,,,,,,,,", `unit "K" does not fit temp.rectal; it may be C, F`},
		"unit of another":    {"heart.rate,pony,C,30,46,p,,,,,,,,,,", `it may be /min`},
		"crossed usual":      {"heart.rate,pony,/min,46,30,p,,,,,,,,,,", "usual_low 46 and usual_high 30 are crossed"},
		"crossed recheck":    {"heart.rate,pony,/min,30,46,p,,,46,p,,,,,,", "usual_high 46 and recheck_high 46 are crossed"},
		"crossed tell":       {"heart.rate,pony,/min,30,46,p,,,60,p,,,50,p,,", "recheck_high 60 and tell_high 50 are crossed"},
		"crossed tell low":   {"heart.rate,pony,/min,30,46,p,,20,,p,,24,,p,,", "tell_low 24 and recheck_low 20 are crossed"},
		"tell in usual":      {"heart.rate,pony,/min,30,46,p,,,,,,,46,p,,", "usual_high 46 and tell_high 46 are crossed"},
		"missing source":     {"heart.rate,pony,/min,30,46,,,,,,,,,,,", "usual: a limit without a source"},
		"half a source":      {"heart.rate,pony,/min,30,46,p|,,,,,,,,,,", "usual: a limit without a source"},
		"two sources":        {"heart.rate,pony,/min,30,,p|q,,,,,,,,,,", "there is only one limit"},
		"not a number":       {"heart.rate,pony,/min,thirty,46,p,,,,,,,,,,", `usual: "thirty" is not a number`},
		"NaN":                {"heart.rate,pony,/min,NaN,46,p,,,,,,,,,,", `usual: "NaN" is not a number`},
		"infinite":           {"heart.rate,pony,/min,30,+Inf,p,,,,,,,,,,", `usual: "+Inf" is not a number`},
		"negative":           {"heart.rate,pony,/min,-2,46,p,,,,,,,,,,", `usual: "-2" is not a number`},
		"hexadecimal":        {"heart.rate,pony,/min,0x1E,46,p,,,,,,,,,,", `usual: "0x1E" is not a number`},
		"exponent":           {"heart.rate,pony,/min,3e1,46,p,,,,,,,,,,", `usual: "3e1" is not a number`},
		"bare point":         {"heart.rate,pony,/min,30.,46,p,,,,,,,,,,", `usual: "30." is not a number`},
		"decimal comma":      {`temp.rectal,pony,C,"37,2",38.3,p,,,,,,,,,,`, "write a decimal point, not a comma"},
		"two decimals":       {"temp.rectal,pony,C,37.25,38.3,p,,,,,,,,,,", "more than one decimal"},
		"F in a row of C":    {"temp.rectal,pony,C,99.0,101.0,p,,,,,,,,,,", "99.0 cannot be right in C"},
		"C in a row of F":    {"temp.rectal,pony,F,37.2,38.3,p,,,,,,,,,,", "37.2 cannot be right in F"},
		"huge":               {"heart.rate,pony,/min,30,4600,p,,,,,,,,,,", `usual: "4600" is not a number from 0 to 999`},
		"no usual":           {"heart.rate,pony,/min,,,,,,60,p,,,,,,", "usual: neither a low nor a high value"},
		"unknown evidence":   {"heart.rate,pony,/min,30,46,p,certain,,,,,,,,,", `evidence "certain" is not known`},
		"too few columns":    {"heart.rate,pony,/min,30,46,p", "6 columns instead of 16"},
		"too many columns":   {"heart.rate,pony,/min,30,46,p,,,,,,,,,,,", "17 columns instead of 16"},
		"long text":          {"heart.rate,pony,/min,30,46,p,,,,,,,,,," + long, "column 16 has 10000 characters; 300 are the most"},
		"long number":        {"heart.rate,pony,/min," + strings.Repeat("9", 200) + ",46,p,,,,,,,,,,", "is not a number from 0 to 999"},
		"escape sequence":    {"heart.rate,pony,/min,30,46,p,,,,,,,,,,\x1b[31mred", "column 16 holds a character that cannot be printed"},
		"C1 control":         {"heart.rate,pony,/min,30,46,p\u009b31m,,,,,,,,,,", "column 6 holds a character that cannot be printed"},
		"bidi override":      {"heart.rate,pony,/min,30,46,p,,,,,,,,,,a\u202eb", "column 16 holds a character that cannot be printed"},
		"invalid UTF-8":      {"heart.rate,pony,/min,30,46,p\xff,,,,,,,,,,", "column 6 is not UTF-8"},
		"line break in cell": {"heart.rate,pony,/min,30,46,p,,,,,,,,,,\"a\nb\"", "column 16 holds a character that cannot be printed"},
		"stray quote":        {`heart.rate,pony,/min,30,46,p"q,,,,,,,,,,`, "not CSV"},
		"open quote":         {`heart.rate,pony,/min,30,46,"p,,,,,,,,,,`, "not CSV"},
		"given twice":        {strings.TrimSpace(good), "already on line 3"},
	} {
		table := builtIn(t)
		before := table.Rows()
		own, err := table.With(strings.NewReader("# ours\n"+header+good+c.row+"\n"), "ours.csv")
		assert.Nil(t, own, name)
		var bad *ranges.FileError
		require.ErrorAs(t, err, &bad, name)
		assert.Len(t, bad.Problems, 1, name)
		assert.Equal(t, 4, bad.Problems[0].Line, name)
		assert.ErrorContains(t, err, "ours.csv:4: ", name)
		assert.ErrorContains(t, err, c.want, name)
		assertHarmless(t, err)
		assert.Equal(t, before, table.Rows(), name)
	}
}

// A message is short lines of printable characters, whatever was in the file or its name.
func assertHarmless(t testing.TB, err error) {
	t.Helper()
	for line := range strings.SplitSeq(err.Error(), "\n") {
		assert.False(t, strings.ContainsFunc(line, func(r rune) bool { return !unicode.IsPrint(r) }), "%q", line)
		assert.Less(t, len(line), 600)
	}
}

func TestPracticePairDisagrees(t *testing.T) {
	file := header + "temp.rectal,pony,C,37.2,38.3,p,,,,,,,,,,\ntemp.rectal,pony,F,99.0,101.3,p,,,,,,,,,,\n"
	_, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.ErrorContains(t, err, "ours.csv:3: the limits in C and in F (lines 2 and 3) do not agree")
	_, err = builtIn(t).With(strings.NewReader(strings.Replace(file, "101.3", "101.0", 1)), "ours.csv")
	require.NoError(t, err)
}

func TestPracticeHeaderRefused(t *testing.T) {
	for name, c := range map[string]struct{ file, want string }{
		"empty":      {"", "ours.csv:1: no line names the columns"},
		"only notes": {"# nothing yet\n", "ours.csv:1: no line names the columns"},
		"no header":  {"heart.rate,pony,/min,30,46,p,,,,,,,,,,\n", "ours.csv:1: the first line must name the columns: measure,class"},
		"semicolons": {strings.ReplaceAll(header, ",", ";"), "not parted by commas"},
		"tabs":       {strings.ReplaceAll(header, ",", "\t"), "not parted by commas"},
		"UTF-16":     {"\xff\xfem\x00e\x00", "ours.csv:1: the file is UTF-16"},
		"too large":  {header + strings.Repeat("#\n", 1<<19), "ours.csv:1: the file is larger than 1024 kB"},
	} {
		_, err := builtIn(t).With(strings.NewReader(c.file), "ours.csv")
		require.ErrorContains(t, err, c.want, name)
		assert.ErrorContains(t, err, "is refused; the ranges in use stay. Correct", name)
	}
}

// All bad lines are listed in their order, twenty at the most, and the rest counted.
func TestPracticeListsEveryBadLine(t *testing.T) {
	var file strings.Builder
	file.WriteString(header)
	for i := range 30 {
		if i%2 == 0 {
			fmt.Fprintf(&file, "heart.rate,class %d,/min,30,46,p,,,,,,,,,,\n", i)
		} else {
			file.WriteString("heart.rate,pony\n")
		}
	}
	_, err := builtIn(t).With(strings.NewReader(file.String()), "ours.csv")
	var bad *ranges.FileError
	require.ErrorAs(t, err, &bad)
	require.Len(t, bad.Problems, 20)
	assert.Equal(t, 10, bad.More)
	for i, p := range bad.Problems {
		assert.Equal(t, i+2, p.Line)
	}
	assert.True(t, strings.HasSuffix(err.Error(), "\nand 10 more"))
}

func TestPracticeReaderFails(t *testing.T) {
	broken := errors.New("disc pulled out")
	r := io.MultiReader(strings.NewReader(header), iotest.ErrReader(broken))
	own, err := builtIn(t).With(r, "ours.csv\x1b[2J")
	assert.Nil(t, own)
	require.ErrorIs(t, err, broken)
	assertHarmless(t, err)
}

// The built-in tables in the form of a practice's file: what is exported can be taken back, as the practice's.
func TestBuiltInRowsAsPracticeFile(t *testing.T) {
	file := header +
		`heart.rate,"foal, first hour",/min,60,169,FOALT|NAGEL15,published,,,,,60,,FOALT,published,"read, not ours"` + "\n"
	own, err := builtIn(t).With(strings.NewReader(file), "ours.csv")
	require.NoError(t, err)
	row, _ := own.Lookup(ranges.HeartRate, ranges.FoalFirstHour, ranges.PerMinute)
	assert.Equal(t, "FOALT", row.Usual.On(ranges.SideLow).Source)
	assert.Equal(t, "NAGEL15", row.Usual.On(ranges.SideHigh).Source)
	assert.Equal(t, ranges.PracticeOwn, row.Usual.On(ranges.SideLow).Evidence)
}
