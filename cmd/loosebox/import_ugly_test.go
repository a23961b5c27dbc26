package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// uglySheet is a sheet as people have it, invented, and what its owner answers.
type uglySheet struct {
	file    string
	bytes   func(t testing.TB) []byte
	answers [][2]string // in the proposed map: what is replaced by what
	visits  int
	bad     int
}

func saved(t testing.TB, e encoding.Encoding, text string) []byte {
	t.Helper()
	b, err := e.NewEncoder().Bytes([]byte(text))
	require.NoError(t, err)
	return b
}

// yardBook is a semicolon CSV of Windows: titles above, decimal commas, dates in several forms, three answers in one cell, a
// name written once for the rows below it, a heading and a sum between the rows.
const yardBook = `Yard book Zoë's stables;;;;;;;;
printed 3.1.2020;;;;;;;;
;;;;;;;;
Horse;Date;Time;TPR;MM;CRT;Gut;Tech;Remarks
Zoë;4.5.2019;14.30;38,1/36/12;pink;<2;N;Björn;ate all – “fine”
;25.5.2019;8:05 am;38.4/40/-;P;2s;++;Björn;
;2019-06-01;;37,9/36/14;pk;slow;WNL;do.;
June;;;;;;;;
Müsli;12-Jun-2019;0930;38,0/44/16;pale;1,5;hypo;Ann;left some hay
Müsli;13.6.19;;38,2/48/20;tacky & pink;>2;-;Ann;
Horse;Date;Time;TPR;MM;CRT;Gut;Tech;Remarks
Müsli;14.6.2019;17h;38.2 / 44 / 16;inj;2;+;Ann;"said ""better"" today"
Total;;;;;;;;6
`

// longTable is one finding a row, of an old Mac: values that are words and numbers, a test that no step takes.
const longTable = "Patient\tDay\tTest\tSite\tResult\tUnit\tInitials\r" +
	"Señor\t05/14/2018\tTemp\t\t101.2\tF\tJB\r" +
	"Señor\t05/14/2018\tHR\t\t40\t\tJB\r" +
	"Señor\t05/14/2018\tMM\t\tWNL\t\tJB\r" +
	"Señor\t05/14/2018\tGut\tLU\tnormal\t\tJB\r" +
	"Señor\t05/14/2018\tPCV\t\t38\t%\tJB\r" +
	"Señor\t05/14/2018\tCRT\t\tslow\t\tJB\r" +
	"Crème\t05/15/2018\tTemp\t\t38.3\tC\tJB\r" +
	"Crème\t05/15/2018\tHR\t\tN\t\tJB\r" +
	"Crème\t05/15/2018\tRR\t\t14\t\tJB\r" +
	"Crème\t05/15/2018\tWt\t\t1012\tlb\tJB\r"

// workbookSheet is an .xlsx with titles, days as numbers with and without a date format, and a second sheet that is hidden.
func workbookSheet(t testing.TB) []byte {
	f := excelize.NewFile()
	_, err := f.NewSheet("old prices")
	require.NoError(t, err)
	require.NoError(t, f.SetCellValue("old prices", "A1", "hay"))
	require.NoError(t, f.SetSheetVisible("old prices", false))
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	require.NoError(t, err)
	for i, row := range [][]any{
		{"Hollow Farm, vitals"},
		{},
		{"Horse Name", "Exam date", "Temp (F)", "Pulse", "Resp", "Wt", "Gut LU", "Gut RU", "Digital pulses", "Microchip", "Owner paid"},
		{"Bramble", 43589, 100.4, 36, 12, "500 kg", "++", "+", "WNL", 985141000123456, "y"},
		{"Bramble", 43590.6, 101.1, "40 bpm", "12", "502kg", "++", "++", "faint", 985141000123456, "n"},
		{"Bramble", "5/25/2019", 100.9, 38, 12, nil, "0", "+++", "bounding LF", 985141000123456, "y"},
		{"Teasel", 43591, 38.2, 44, 16, "1100 lbs", "N", "N", "N", nil, "y"},
	} {
		for c, v := range row {
			at, err := excelize.CoordinatesToCellName(c+1, i+1)
			require.NoError(t, err)
			require.NoError(t, f.SetCellValue("Sheet1", at, v))
		}
	}
	require.NoError(t, f.SetCellStyle("Sheet1", "B4", "B4", day))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// longRows are the rows of the long sheet: 20,000 where LOOSEBOX_LONG is set, as .ci/run does, and at a desk those of its odd
// rows, up to a day that is no month.
func longRows() int {
	if os.Getenv("LOOSEBOX_LONG") != "" {
		return 20_000
	}
	return 3_500
}

// longYear is a sheet of 20,000 rows or fewer in UTF-16: C and F in one column, words, two spellings of one horse, weights that no
// grown horse has.
func longYear(t testing.TB) []byte {
	var b strings.Builder
	b.WriteString("Horse,Date,Temp,HR,RR,Gums,Gut,Manure,Weight kg,Examiner,Notes\r\n")
	for i := range longRows() {
		horse := fmt.Sprintf("Aster %03d", i%250)
		temp := fmt.Sprintf("%.1f", 37.5+float64(i%10)/10)
		if i%3 == 0 {
			temp = fmt.Sprintf("%.1f", 99.5+float64(i%20)/10)
		}
		weight, note := "500", ""
		switch {
		case i == 77:
			weight = "45"
		case i == 3077:
			weight = "1500"
		case i%5 > 0:
			weight = ""
		}
		switch i {
		case 3300:
			horse = "Bramble"
		case 3301:
			horse = "Brambel"
		case 3400:
			note = "\"looked, and was fine\""
		}
		_, _ = fmt.Fprintf(&b, "%s,%02d/%02d/%d,%s,%d,%d,%s,%s,%s,%s,Ann,%s\r\n", horse, 1+i/250%28, 1+i/250/28%12, 2019+i/250/28/12,
			temp, 30+i%20, 8+i%9, []string{"WNL", "P", "pale pink", "tacky"}[i%4], []string{"N", "++", "+", "slow"}[i%4], []string{"N", "F", "soft", "2 piles"}[i%4], weight, note)
	}
	return saved(t, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), b.String())
}

func uglySheets() []uglySheet {
	return []uglySheet{
		{"yard book.csv", func(t testing.TB) []byte { return saved(t, charmap.Windows1252, yardBook) }, nil, 6, 0},
		{"tests.txt", func(t testing.TB) []byte { return saved(t, charmap.Macintosh, longTable) }, nil, 2, 0},
		{"vitals.xlsx", workbookSheet, nil, 4, 0},
		{"long year.csv", longYear, [][2]string{
			{"weights: ask", "weights: leave out"},
			{"columns:\n", "horses: {Brambel: Bramble}\ncolumns:\n"},
		}, longRows(), 0},
	}
}

// Each sheet is in after two runs: one proposes the map, the other imports by it, with what only its owner can say put in.
func TestFourUglySheetsAreInAfterTwoRuns(t *testing.T) {
	t.Parallel()
	for _, s := range uglySheets() {
		t.Run(s.file, func(t *testing.T) {
			t.Parallel()
			if s.visits > 1000 && testing.Short() {
				t.Skip("thousands of rows")
			}
			dir := t.TempDir()
			file, mapping := filepath.Join(dir, s.file), filepath.Join(dir, "map.yaml")
			require.NoError(t, os.WriteFile(file, s.bytes(t), 0o600))
			code, proposed, errOut := runIn(filepath.Join(dir, "record"), "", "import", file, "--propose")
			require.Equal(t, exitDone, code, errOut)
			assert.NoDirExists(t, filepath.Join(dir, "record"))
			if s.answers == nil {
				assert.NotContains(t, proposed, "ASK", "nothing is open")
			}
			for _, a := range s.answers {
				require.Contains(t, proposed, a[0])
				proposed = strings.Replace(proposed, a[0], a[1], 1)
			}
			t.Log(proposed)
			require.NoError(t, os.WriteFile(mapping, []byte(proposed), 0o600))
			code, out, errOut := runIn(filepath.Join(dir, "record"), "", "import", file, "--map", mapping, "--by", "Ann Lee")
			t.Log(out, errOut)
			require.Equal(t, exitDone, code, errOut)
			visits := visitsIn(t, filepath.Join(dir, "record"))
			assert.Len(t, visits, s.visits)
			for _, v := range visits {
				assert.Contains(t, v.Source, "imported 2026-03-01T09:00:00Z by Ann Lee")
			}
			uglyChecks(t, s.file, visits)
		})
	}
}

func visitOn(t testing.TB, visits []exam.Visit, horse, day string) exam.Visit {
	t.Helper()
	for _, v := range visits {
		if v.Horse.Name == horse && v.OpenedAt.Format("2006-01-02 15:04") == day {
			return v
		}
	}
	t.Fatalf("no visit of %s on %s", horse, day)
	return exam.Visit{}
}

func numberOf(t testing.TB, v exam.Visit, step exam.StepID) notation.Quantity {
	t.Helper()
	f, ok := v.Finding(exam.Key{Step: step})
	require.True(t, ok, step)
	require.NotNil(t, f.Value.Number, "%s: %+v", step, f)
	return *f.Value.Number
}

func wordsOf(t testing.TB, v exam.Visit, step exam.StepID, site exam.Site) string {
	t.Helper()
	f, ok := v.Finding(exam.Key{Step: step, Site: site})
	require.True(t, ok, step)
	if !f.Done() {
		return string(f.NotDone) + "|" + f.Note
	}
	return strings.Join(f.Value.Words, ",")
}

func uglyChecks(t *testing.T, file string, visits []exam.Visit) {
	c := func(v float64) notation.Quantity { return notation.Quantity{Value: v, Unit: notation.Celsius} }
	f := func(v float64) notation.Quantity { return notation.Quantity{Value: v, Unit: notation.Fahrenheit} }
	switch file {
	case "yard book.csv":
		v := visitOn(t, visits, "Zoë", "2019-05-04 14:30")
		assert.Equal(t, c(38.1), numberOf(t, v, "temp.rectal"))
		assert.Equal(t, []any{36.0, exam.Under, "Björn"}, []any{numberOf(t, v, "heart.rate").Value, mustFind(t, v, "gum.refill").Value.Bound, v.By})
		assert.Contains(t, v.Notes[0].Text, "ate all – “fine”")
		v = visitOn(t, visits, "Zoë", "2019-06-01 12:00")
		assert.Equal(t, "only words were written|written: slow", wordsOf(t, v, "gum.refill", ""))
		assert.Equal(t, "heard", wordsOf(t, v, "gut.sounds", exam.Overall))
		v = visitOn(t, visits, "Müsli", "2019-06-13 12:00")
		assert.Equal(t, "only words were written|written: tacky & pink", wordsOf(t, v, "gum.colour", ""))
		assert.Equal(t, exam.Over, mustFind(t, v, "gum.refill").Value.Bound)
		visitOn(t, visits, "Zoë", "2019-05-25 08:05")
		visitOn(t, visits, "Müsli", "2019-06-14 17:00")
	case "tests.txt":
		v := visitOn(t, visits, "Señor", "2018-05-14 12:00")
		assert.Equal(t, f(101.2), numberOf(t, v, "temp.rectal"))
		assert.Equal(t, "pink", wordsOf(t, v, "gum.colour", ""))
		assert.Equal(t, "heard", wordsOf(t, v, "gut.sounds", exam.LeftUpper))
		assert.Equal(t, "PCV: 38 %", v.Notes[0].Text)
		v = visitOn(t, visits, "Crème", "2018-05-15 12:00")
		assert.Equal(t, "only words were written|written: N", wordsOf(t, v, "heart.rate", ""))
		assert.Equal(t, notation.Pounds, numberOf(t, v, "weight.body").Unit)
	case "vitals.xlsx":
		v := visitOn(t, visits, "Bramble", "2019-05-05 14:24")
		assert.Equal(t, f(101.1), numberOf(t, v, "temp.rectal"))
		assert.Equal(t, "985141000123456", v.Horse.Chip)
		assert.Equal(t, "heard", wordsOf(t, v, "gut.sounds", exam.LeftUpper))
		v = visitOn(t, visits, "Teasel", "2019-05-06 12:00")
		assert.Equal(t, c(38.2), numberOf(t, v, "temp.rectal"), "C and F in one column")
		v = visitOn(t, visits, "Bramble", "2019-05-25 12:00")
		assert.Equal(t, "none", wordsOf(t, v, "gut.sounds", exam.LeftUpper))
		assert.Equal(t, "only words were written|written: bounding LF", wordsOf(t, v, "limb.digitalpulse", exam.Overall))
	case "long year.csv":
		v := visitOn(t, visits, "Aster 077", "2019-01-01 12:00")
		assert.Equal(t, "not possible as written|written: 45", wordsOf(t, v, "weight.body", ""))
		visitOn(t, visits, "Bramble", "2019-01-14 12:00")
		for _, v := range visits {
			assert.NotEqual(t, "Brambel", v.Horse.Name)
		}
	}
}

func mustFind(t testing.TB, v exam.Visit, step exam.StepID) exam.Finding {
	t.Helper()
	f, ok := v.Finding(exam.Key{Step: step})
	require.True(t, ok, step)
	return f
}
