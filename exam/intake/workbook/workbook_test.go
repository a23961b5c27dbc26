package workbook_test

import (
	"archive/zip"
	"bytes"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"loosebox/exam/intake/workbook"
)

func xlsx(t testing.TB, fill func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	fill(f)
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func style(t testing.TB, f *excelize.File, s *excelize.Style) int {
	t.Helper()
	id, err := f.NewStyle(s)
	require.NoError(t, err)
	return id
}

// The days are those of the standard: ECMA-376 part 1, 18.17.4.1 names 1899-12-30 and 1904-01-01 as the zero days, and
// 43589 is 4 May 2019 (counted with the calendar of package time).
func TestCellsOfExcelAsTheyAreMeant(t *testing.T) {
	for _, from1904 := range []bool{false, true} {
		serial := 43589.0
		if from1904 {
			serial -= 1462
		}
		data := xlsx(t, func(f *excelize.File) {
			require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}))
			custom := "dd/mm/yyyy"
			for cell, v := range map[string]any{
				"A2": "Name", "A4": serial, "B4": serial + 14.5/24, "C4": 14.0/24 + 5.0/1440, "D4": 38.1, "E4": "985141000123456", "F4": serial, "G4": "yes",
			} {
				require.NoError(t, f.SetCellValue("Sheet1", cell, v))
			}
			require.NoError(t, f.SetCellInt("Sheet1", "H4", 985141000123456))
			for cell, s := range map[string]*excelize.Style{"A4": {NumFmt: 14}, "B4": {CustomNumFmt: &custom}, "C4": {NumFmt: 20}} {
				require.NoError(t, f.SetCellStyle("Sheet1", cell, cell, style(t, f, s)))
			}
		})
		s, err := workbook.Read(data, "")
		require.NoError(t, err)
		require.Len(t, s.Rows, 2)
		assert.Equal(t, workbook.SheetRow{Line: 2, Cells: []string{"Name"}}, s.Rows[0])
		plain := "43589"
		if from1904 {
			plain = "42127"
		}
		assert.Equal(t, workbook.SheetRow{Line: 4, Cells: []string{"2019-05-04", "2019-05-04 14:30", "14:05", "38.1", "985141000123456", plain, "yes", "985141000123456"}}, s.Rows[1])
	}
}

func TestSheetsAreChosen(t *testing.T) {
	data := xlsx(t, func(f *excelize.File) {
		for _, n := range []string{"Visits", "Prices", "Old"} {
			_, err := f.NewSheet(n)
			require.NoError(t, err)
			require.NoError(t, f.SetCellValue(n, "A1", n))
		}
		require.NoError(t, f.SetSheetVisible("Old", false))
	})
	_, err := workbook.Read(data, "")
	require.ErrorContains(t, err, "the file has 2 sheets: Visits, Prices; say which one with --sheet NAME")
	s, err := workbook.Read(data, "visits")
	require.NoError(t, err)
	assert.Equal(t, "Visits", s.Rows[0].Cells[0])
	_, err = workbook.Read(data, "Vists")
	require.ErrorContains(t, err, `no sheet is called "Vists"`)
}

func packed(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range parts {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// The elements are those of OpenDocument 1.3, part 3, 9.1 and 19.
const content = `<?xml version="1.0"?><office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x" xmlns:style="s">
<office:automatic-styles><style:style style:name="ta2"><style:table-properties table:display="false"/></style:style></office:automatic-styles>
<office:body><office:spreadsheet>
<table:table table:name="Hidden" table:style-name="ta2"><table:table-row><table:table-cell><text:p>secret</text:p></table:table-cell></table:table-row></table:table>
<table:table table:name="Yard">
<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>
<table:table-row><table:table-cell office:value-type="string"><office:annotation><text:p>no</text:p></office:annotation><text:p>Zoë<text:s/>2</text:p></table:table-cell>
<table:table-cell office:value-type="date" office:date-value="2019-05-04"><text:p>04.05.19</text:p></table:table-cell>
<table:table-cell office:value-type="time" office:time-value="PT14H05M00S"><text:p>2:05 PM</text:p></table:table-cell>
<table:table-cell office:value-type="float" office:value="38.1"><text:p>38,1</text:p></table:table-cell>
<table:table-cell table:number-columns-repeated="2"/><table:covered-table-cell/>
<table:table-cell office:value-type="date" office:date-value="2019-05-04T14:30:00"><text:p>x</text:p></table:table-cell></table:table-row>
<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>
</table:table></office:spreadsheet></office:body></office:document-content>`

func TestOpenDocument(t *testing.T) {
	data := packed(t, map[string]string{"content.xml": content})
	before := allocated()
	s, err := workbook.Read(data, "")
	require.NoError(t, err)
	assert.Less(t, allocated()-before, uint64(4<<20), "a million empty rows are counted, not made")
	assert.Equal(t, "Yard", s.Name)
	assert.Equal(t, []workbook.SheetRow{{Line: 3, Cells: []string{"Zoë 2", "2019-05-04", "14:05", "38.1", "", "", "", "2019-05-04 14:30"}}}, s.Rows)
}

// allocated is how many bytes were allocated since the start of the process.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

// What is no table, and what is made to fill the memory, is refused in a sentence.
func TestWhatIsRefused(t *testing.T) {
	many := strings.Replace(content, `<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="1024"/>`,
		`<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="300"><text:p>x</text:p></table:table-cell>`, 1)
	sparse := xlsx(t, func(f *excelize.File) {
		require.NoError(t, f.SetCellValue("Sheet1", "A1", "Name"))
		require.NoError(t, f.SetCellValue("Sheet1", "A1048576", "far"))
	})
	for what, c := range map[string]struct {
		data []byte
		want string
	}{
		"old":    {[]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest"), "Save it as .xlsx without a password, or as CSV"},
		"zip":    {packed(t, map[string]string{"a.txt": "x"}), "without a spreadsheet in it"},
		"xlsb":   {packed(t, map[string]string{"xl/workbook.bin": "x"}), "an .xlsb file"},
		"cut":    {packed(t, map[string]string{"content.xml": content})[:200], "cannot be unpacked"},
		"broken": {packed(t, map[string]string{"xl/workbook.xml": "<workbook"}), "is broken"},
		"bomb":   {packed(t, map[string]string{"content.xml": strings.Repeat(" ", 65<<20)}), "unpacks to more than 64 MB"},
		"many":   {packed(t, map[string]string{"content.xml": many}), "the sheet is too large"},
		"not":    {packed(t, map[string]string{"content.xml": "<a><b></a>"}), "is broken"},
	} {
		_, err := workbook.Read(c.data, "")
		require.ErrorContains(t, err, c.want, what)
	}
	s, err := workbook.Read(sparse, "")
	require.NoError(t, err)
	assert.Equal(t, []workbook.SheetRow{{Line: 1, Cells: []string{"Name"}}, {Line: 1048576, Cells: []string{"far"}}}, s.Rows)
}

// A sheet of 5,000 rows with dates takes no more memory a row than a short one.
func TestALongSheet(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes seconds")
	}
	short, long := read(t, 500), read(t, 5_000)
	assert.Less(t, long, 15*short, "bytes for 5,000 rows beside those for 500")
}

// read reads a sheet of so many rows with dates and says how many bytes that allocated.
func read(t *testing.T, rows int) uint64 {
	t.Helper()
	data := xlsx(t, func(f *excelize.File) {
		id := style(t, f, &excelize.Style{NumFmt: 14})
		w, err := f.NewStreamWriter("Sheet1")
		require.NoError(t, err)
		for i := range rows {
			row := []any{excelize.Cell{StyleID: id, Value: 43589 + i%300}, "Horse"}
			for c := range 18 {
				row = append(row, 30+float64(c)/10)
			}
			at, _ := excelize.CoordinatesToCellName(1, i+1)
			require.NoError(t, w.SetRow(at, row))
		}
		require.NoError(t, w.Flush())
	})
	before := allocated()
	s, err := workbook.Read(data, "")
	after := allocated()
	require.NoError(t, err)
	require.Len(t, s.Rows, rows)
	assert.Equal(t, "2019-05-05", s.Rows[1].Cells[0])
	return after - before
}

func FuzzRead(f *testing.F) {
	f.Add(packed(f, map[string]string{"content.xml": content}))
	f.Add(xlsx(f, func(x *excelize.File) { require.NoError(f, x.SetCellValue("Sheet1", "B2", 38.1)) }))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := workbook.Read(data, "")
		if err == nil && len(s.Rows) > workbook.MaxRows {
			t.Fatal("too many rows")
		}
	})
}
