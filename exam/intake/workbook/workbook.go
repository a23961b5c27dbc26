// Package workbook reads one sheet of a spreadsheet file, .xlsx or .ods, as rows of text: a day as 2019-05-04, a
// time of day as 14:05, a number with a decimal point as it is stored. A file is told by what is in it, not by its
// name, and read within limits, so that one made to fill the memory is refused before it is unpacked.
package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
)

// Limits of a file.
const (
	MaxRows    = 100_000
	MaxColumns = 400
	MaxCells   = 2_000_000 // that hold something
	maxParts   = 2000
	maxPart    = 64 << 20  // bytes of one part, unpacked
	maxUnpacks = 160 << 20 // bytes of all parts, unpacked
)

// Sheet is one sheet of a file.
type Sheet struct {
	Name    string
	Rows    []SheetRow
	Notices []string // what was left out
	// From1904 says that the file counts its days from 1904-01-01; else they count from 1899-12-30.
	From1904 bool
}

// SheetRow is a row that holds something; Line is its number in the sheet, from 1.
type SheetRow struct {
	Line  int
	Cells []string
}

// Is says that the bytes are those of a spreadsheet file: one that is read here, or an old one that Read
// refuses in a sentence.
func Is(data []byte) bool {
	return bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0"))
}

// Read reads a sheet by its name, or the only one that holds something where name is empty. Several of them are
// an *Choose.
func Read(data []byte, name string) (*Sheet, error) {
	if bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")) {
		return nil, fmt.Errorf("this is an old .xls file, or it has a password. Save it as .xlsx without a password, or as CSV")
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("this is a packed file that cannot be unpacked; save it again as .xlsx or as CSV")
	}
	parts, err := looked(z)
	if err != nil {
		return nil, err
	}
	switch {
	case parts["xl/workbook.xml"] != nil:
		return readExcel(parts, name)
	case parts["content.xml"] != nil:
		return readOpen(parts["content.xml"], name)
	case parts["xl/workbook.bin"] != nil:
		return nil, fmt.Errorf("this is an .xlsb file; open it and save it as .xlsx or as CSV")
	}
	return nil, fmt.Errorf("this is a packed file without a spreadsheet in it; save the sheet as .xlsx, .ods or CSV")
}

// looked checks number and declared sizes of the parts. The zip reader stops where a part is larger than it says.
func looked(z *zip.Reader) (map[string]*zip.File, error) {
	if len(z.File) > maxParts {
		return nil, fmt.Errorf("the file has %d parts; a spreadsheet has not so many, and it is not read", len(z.File))
	}
	parts, sum := map[string]*zip.File{}, uint64(0)
	for _, f := range z.File {
		sum += f.UncompressedSize64
		if f.UncompressedSize64 > maxPart || sum > maxUnpacks {
			return nil, fmt.Errorf("the file unpacks to more than %d MB; so much is not read: split it, or save it as CSV", maxPart>>20)
		}
		parts[strings.TrimPrefix(f.Name, "/")] = f
	}
	return parts, nil
}

// Choose says that somebody has to say which sheet is meant.
type Choose struct{ Names []string }

// Error names the sheets and how to choose one.
func (c *Choose) Error() string {
	return fmt.Sprintf("the file has %d sheets: %s; say which one with --sheet NAME, or with file: {sheet: NAME} in the map", len(c.Names), strings.Join(c.Names, ", "))
}

// choose reads the sheet that is named, or all of them until it is clear that one alone holds something.
func choose(shown []string, name string, read func(string) (*Sheet, error)) (*Sheet, error) {
	var only *Sheet
	var full []string
	for _, n := range shown {
		if name != "" && !strings.EqualFold(strings.TrimSpace(n), strings.TrimSpace(name)) {
			continue
		}
		s, err := read(n)
		if err != nil {
			return nil, err
		}
		if len(s.Rows) > 0 || name != "" {
			only = s
			full = append(full, n)
		}
	}
	switch {
	case len(full) > 1:
		return nil, &Choose{full}
	case only == nil && name != "":
		return nil, fmt.Errorf("no sheet is called %q; there is %s", name, strings.Join(shown, ", "))
	case only == nil:
		return nil, fmt.Errorf("no sheet of the file holds anything")
	}
	return only, nil
}

// gathered takes the rows of a sheet within the limits.
type gathered struct {
	rows  []SheetRow
	cells int
}

func (g *gathered) add(line int, cells []string) error {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) == 0 {
		return nil
	}
	g.cells += len(cells)
	switch {
	case len(cells) > MaxColumns:
		return tooWide(fmt.Sprintf("row %d", line), len(cells))
	case len(g.rows) == MaxRows || g.cells > MaxCells:
		return fmt.Errorf("the sheet is too large at row %d: %d rows and %d cells are the most; split it", line, MaxRows, MaxCells)
	}
	g.rows = append(g.rows, SheetRow{line, cells})
	return nil
}
