package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
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
)

// dayBook is an .xlsx that counts its days from 1904: titles, two rates in one cell, C and F in one column, a name written once
// for the rows below it, days with and without a format and as text, a formula, a hidden sheet.
func dayBook(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	from1904 := true
	require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}))
	_, err := f.NewSheet("hay")
	require.NoError(t, err)
	require.NoError(t, f.SetCellValue("hay", "A1", "bales"))
	require.NoError(t, f.SetSheetVisible("hay", false))
	for i, row := range [][]any{
		{"Marsh Farm day book"},
		{"kept by the grooms, temperatures in C or F"},
		{},
		{"Horse's name", "Seen", "Temp", "HR/RR", "Gums", "CRT (sec)", "Gut sounds", "Body wt", "Seen by", "Comments"},
		{"Bramble", 42128, 38.1, "36/12", "P", "<2", "++", "1100 lb", "Ann", "ate up"},
		{nil, 42129, 101.3, "40/14", "WNL", 1.5, "+", "505 kg", "Ann", "left some hay"},
		{nil, "4.6.2019", 38.4, "44/-", "pale pink", "slow", "hypo", nil, "Ann", nil},
		{"Teasel", "25.6.2019", "37.9 C", "52/20", "N", 2, "N", nil, "do.", nil},
		{"Total", nil, nil, nil, nil, nil, nil, nil, nil, 4},
	} {
		for c, v := range row {
			at, err := excelize.CoordinatesToCellName(c+1, i+1)
			require.NoError(t, err)
			require.NoError(t, f.SetCellValue("Sheet1", at, v))
		}
	}
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	require.NoError(t, err)
	require.NoError(t, f.SetCellStyle("Sheet1", "B5", "B5", day))
	require.NoError(t, f.SetCellFormula("Sheet1", "J8", "COUNTA(A5:A8)"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// results is an .ods with one finding a row, its values words and numbers, its days cells of a date and texts.
func results(t testing.TB) []byte {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet><table:table table:name="results">`)
	b.WriteString(`<table:table-row><table:table-cell table:number-columns-spanned="7" office:value-type="string"><text:p>Results of the year</text:p></table:table-cell><table:covered-table-cell table:number-columns-repeated="6"/></table:table-row>`)
	for _, row := range strings.Split(`Animal|Date|Check|Side|Result|Unit|Initials
Señor|2019-07-14|Temp||101.2|F|JB
Señor|2019-07-14|HR||N||JB
Señor|2019-07-14|MM||WNL||JB
Señor|2019-07-14|Gut|LU|++||JB
Señor|2019-07-14|CRT||slow||JB
Señor|2019-07-14|PCV||38|%|JB
Crème|15.7.2019|T||38.2|C|JB
Crème|15.7.2019|Resp||14||JB
Crème|15.7.2019|Wt||1012|lb|JB
Crème|15.7.2019|Manure||N||JB`, "\n") {
		b.WriteString("<table:table-row>")
		for _, cell := range strings.Split(row, "|") {
			switch {
			case cell == "":
				b.WriteString("<table:table-cell/>")
			case strings.HasPrefix(cell, "2019-"):
				_, _ = fmt.Fprintf(&b, `<table:table-cell office:value-type="date" office:date-value="%s"><text:p>14.07.19</text:p></table:table-cell>`, cell)
			case strings.Trim(cell, "0123456789.") == "" && strings.Count(cell, ".") < 2:
				_, _ = fmt.Fprintf(&b, `<table:table-cell office:value-type="float" office:value="%s"><text:p>%s</text:p></table:table-cell>`, cell, strings.Replace(cell, ".", ",", 1))
			default:
				_, _ = fmt.Fprintf(&b, `<table:table-cell office:value-type="string"><text:p>%s</text:p></table:table-cell>`, html.EscapeString(cell))
			}
		}
		b.WriteString("</table:table-row>")
	}
	b.WriteString(`</table:table></office:spreadsheet></office:body></office:document-content>`)
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	w, err := z.Create("content.xml")
	require.NoError(t, err)
	_, err = w.Write([]byte(b.String()))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return packed.Bytes()
}

// scraps is a sheet whose names say little: three numbers in one cell under no name of theirs, decimal commas.
const scraps = "Scraps from the tack room\n" +
	"Name;Day;Time;Obs;Mucous membranes;CRT;Gut;Digital pulse;By;Remarks\n" +
	"Zoë;4.5.2019;14.30;38,1/36/12;pink;<2;N;N;Björn;ate all – “fine”\n" +
	"Zoë;25.5.2019;8:05 am;38,4/40/-;pk;2s;++;faint;Björn;\n" +
	"Müsli;12-Jun-2019;0930;38,0/44/16;tacky & pink;slow;0;bounding LF;Ann;½ bucket left\n" +
	"Müsli;2019-06-14;17h;101,2/44/16;inj;>2;+;WNL;Ann;\n"

// loggedYear is a sheet of so many rows in UTF-16: days as numbers and as D.M.YYYY, two rates in one cell, C and F in one column, two
// spellings of one horse, weights that no grown horse has.
func loggedYear(t testing.TB, rows int) []byte {
	var b strings.Builder
	b.WriteString("Log of the year\t\t\t\t\t\t\t\t\r\nHorse\tSeen on\tTemp\tHR/RR\tGums\tGut\tWeight kg\tExaminer\tNotes\r\n")
	for i := range rows {
		horse, visit := fmt.Sprintf("Aster %03d", i%250), i/250
		day := fmt.Sprint(43466 + 3*visit) // 2019-01-01
		if i%2 == 0 {
			day = fmt.Sprintf("%d.%d.%d", 1+visit%28, 1+visit/28%12, 2018-visit/336)
		}
		temp := fmt.Sprintf("%.1f", 37.5+float64(i%10)/10)
		if i%3 == 0 {
			temp = fmt.Sprintf("%.1f", 99.5+float64(i%20)/10)
		}
		weight := ""
		switch {
		case i == 77:
			weight = "45"
		case i == 777:
			weight = "1500"
		case i%5 == 0:
			weight = "500"
		case i == 501:
			horse = "Bramble"
		case i == 502:
			horse = "Brambel"
		}
		_, _ = fmt.Fprintf(&b, "%s\t%s\t%s\t%d/%d\t%s\t%s\t%s\tAnn\t\r\n", horse, day, temp, 30+i%20, 8+i%9,
			[]string{"WNL", "P", "pale pink", "tacky"}[i%4], []string{"N", "++", "+", "slow"}[i%4], weight)
	}
	return saved(t, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), b.String())
}

// What only the owner of a sheet can say, put into the proposed map.
var (
	isTPR     = [2]string{"split: ask", "split: /"}
	from1900  = [2]string{"format: DD/MM/YYYY, ask", "format: DD/MM/YYYY, serial 1900"}
	noWeight  = [2]string{"weights: ask", "weights: leave out"}
	oneHorse  = [2]string{"columns:\n", "horses: {Brambel: Bramble}\ncolumns:\n"}
	scrapText = func(e encoding.Encoding) func(testing.TB) []byte {
		return func(t testing.TB) []byte { return saved(t, e, scraps) }
	}
)

// A second set of sheets as people have them: each is in after one run that proposes a map and one that imports by it.
func TestFourMoreSheetsAreInAfterTwoRuns(t *testing.T) {
	t.Parallel()
	const rows = 3500 // 20,000 come in the same way: TestFourUglySheetsAreInAfterTwoRuns
	for _, s := range []uglySheet{
		{"day book.xlsx", dayBook, nil, 4, 0},
		{"results.ods", results, nil, 2, 0},
		{"scraps.csv", scrapText(charmap.Windows1252), [][2]string{isTPR}, 4, 0},
		{"old mac.txt", func(t testing.TB) []byte {
			return bytes.ReplaceAll(saved(t, charmap.Macintosh, strings.ReplaceAll(scraps, "½ bucket", "«half» a bucket")), []byte("\n"), []byte("\r"))
		}, [][2]string{isTPR}, 4, 0},
		{"logged year.txt", func(t testing.TB) []byte { return loggedYear(t, rows) }, [][2]string{from1900, noWeight, oneHorse}, rows, 0},
	} {
		t.Run(s.file, func(t *testing.T) {
			dir := t.TempDir()
			file, mapping, record := filepath.Join(dir, s.file), filepath.Join(dir, "map.yaml"), filepath.Join(dir, "record")
			require.NoError(t, os.WriteFile(file, s.bytes(t), 0o600))
			code, proposed, errOut := runIn(record, "", "import", file, "--propose")
			require.Equal(t, exitDone, code, errOut)
			assert.Equal(t, s.answers != nil, strings.Contains(proposed, "ASK"), proposed)
			for _, a := range s.answers {
				require.Contains(t, proposed, a[0])
				proposed = strings.Replace(proposed, a[0], a[1], 1)
			}
			require.NoError(t, os.WriteFile(mapping, []byte(proposed), 0o600))
			code, out, errOut := runIn(record, "", "import", file, "--map", mapping, "--by", "Ann Lee")
			require.Equal(t, exitDone, code, errOut)
			visits := visitsIn(t, record)
			assert.Len(t, visits, s.visits, "%s\n%s\n%s", out, errOut, proposed)
			sheetChecks(t, s.file, visits)
		})
	}
}

func sheetChecks(t *testing.T, file string, visits []exam.Visit) {
	t.Helper()
	rates := func(v exam.Visit) []any {
		list := []any{numberOf(t, v, "temp.rectal").String(), numberOf(t, v, "heart.rate").Value}
		if f := mustFind(t, v, "breath.rate"); f.Done() {
			return append(list, f.Value.Number.Value)
		}
		return append(list, "not done")
	}
	switch file {
	case "day book.xlsx":
		assert.Equal(t, []any{"38.1 C", 36.0, 12.0}, rates(visitOn(t, visits, "Bramble", "2019-05-05 12:00")))
		v := visitOn(t, visits, "Bramble", "2019-05-06 12:00")
		assert.Equal(t, []any{"101.3 F", 40.0, 14.0}, rates(v))
		assert.Equal(t, "reduced", wordsOf(t, v, "gut.sounds", exam.Overall))
		v = visitOn(t, visits, "Bramble", "2019-06-04 12:00")
		assert.Equal(t, []any{"38.4 C", 44.0, "not done"}, rates(v))
		assert.Equal(t, "only words were written|written: slow", wordsOf(t, v, "gum.refill", ""))
		v = visitOn(t, visits, "Teasel", "2019-06-25 12:00")
		assert.Equal(t, []any{"37.9 C", 52.0, 20.0}, rates(v))
		assert.Equal(t, "Ann", v.By)
	case "results.ods":
		v := visitOn(t, visits, "Señor", "2019-07-14 12:00")
		assert.Equal(t, "101.2 F", numberOf(t, v, "temp.rectal").String())
		assert.Equal(t, "only words were written|written: N", wordsOf(t, v, "heart.rate", ""))
		assert.Equal(t, "heard", wordsOf(t, v, "gut.sounds", exam.LeftUpper))
		assert.Equal(t, "PCV: 38 %", v.Notes[0].Text)
		v = visitOn(t, visits, "Crème", "2019-07-15 12:00")
		assert.Equal(t, "38.2 C", numberOf(t, v, "temp.rectal").String())
		assert.InDelta(t, 14, numberOf(t, v, "breath.rate").Value, 0)
	case "scraps.csv", "old mac.txt":
		v := visitOn(t, visits, "Zoë", "2019-05-04 14:30")
		assert.Equal(t, []any{"38.1 C", 36.0, 12.0, "Björn"}, append(rates(v), v.By))
		assert.Contains(t, v.Notes[0].Text, "ate all – “fine”")
		assert.Equal(t, []any{"38.4 C", 40.0, "not done"}, rates(visitOn(t, visits, "Zoë", "2019-05-25 08:05")))
		v = visitOn(t, visits, "Müsli", "2019-06-14 17:00")
		assert.Equal(t, []any{"101.2 F", 44.0, 16.0}, rates(v))
		assert.Equal(t, exam.Over, mustFind(t, v, "gum.refill").Value.Bound)
		v = visitOn(t, visits, "Müsli", "2019-06-12 09:30")
		assert.Equal(t, "none", wordsOf(t, v, "gut.sounds", exam.Overall))
		assert.Contains(t, v.Notes[0].Text, "bucket left")
	case "logged year.txt":
		v := visitOn(t, visits, "Aster 077", "2019-01-01 12:00")
		assert.Equal(t, "not possible as written|written: 45", wordsOf(t, v, "weight.body", ""))
		assert.Equal(t, []any{"38.2 C", 47.0, 13.0}, rates(v))
		visitOn(t, visits, "Bramble", "2019-01-07 12:00")
		visitOn(t, visits, "Aster 000", "2018-01-02 12:00")
	}
}
