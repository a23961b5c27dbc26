package workbook

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// maxShared is how many texts the cells of a file may share.
const maxShared = 200_000

// excel is an .xlsx file (ECMA-376 part 1, 18: workbook, sheets, shared strings, styles) that is read part by part, so
// that no more than one sheet is in the memory.
type excel struct {
	parts    map[string]*zip.File
	from1904 bool
	shared   []string
	dates    []bool            // by number of a cell's style: it shows a day or a time
	places   map[string]string // name of a sheet -> its part
}

func readExcel(parts map[string]*zip.File, name string) (*Sheet, error) {
	x := &excel{parts: parts, places: map[string]string{}}
	targets := map[string]string{}
	if err := x.walk("xl/_rels/workbook.xml.rels", func(_ *xml.Decoder, el xml.StartElement) error {
		if el.Name.Local == "Relationship" {
			to := attr(el, "Target")
			if !strings.HasPrefix(to, "/") {
				to = path.Join("xl", to)
			}
			targets[attr(el, "Id")] = strings.TrimPrefix(to, "/")
		}
		return nil
	}); err != nil {
		return nil, err
	}
	var shown []string
	if err := x.walk("xl/workbook.xml", func(_ *xml.Decoder, el xml.StartElement) error {
		switch el.Name.Local {
		case "workbookPr":
			x.from1904 = attr(el, "date1904") == "1" || attr(el, "date1904") == "true"
		case "sheet":
			x.places[attr(el, "name")] = targets[attr(el, "id")]
			if attr(el, "state") == "" || attr(el, "state") == "visible" {
				shown = append(shown, attr(el, "name"))
			}
		}
		return nil
	}); err != nil {
		return nil, err
	}
	if err := errors.Join(x.readShared(), x.readStyles()); err != nil {
		return nil, err
	}
	return choose(shown, name, x.read)
}

// walk hands over every element of a part, and nothing where the file has no such part.
func (x *excel) walk(name string, each func(d *xml.Decoder, el xml.StartElement) error) error {
	part := x.parts[name]
	if part == nil {
		return nil
	}
	return walk(part, func(d *xml.Decoder, el xml.StartElement, _ string) error { return each(d, el) })
}

// readShared reads the texts that cells share, each made of runs; how a word is spoken (rPh) is left out.
func (x *excel) readShared() error {
	return x.walk("xl/sharedStrings.xml", func(d *xml.Decoder, el xml.StartElement) error {
		if el.Name.Local != "si" {
			return nil
		}
		if len(x.shared) == maxShared {
			return fmt.Errorf("the file has more than %d texts; so many are not read: split it, or save it as CSV", maxShared)
		}
		text, err := runs(d)
		x.shared = append(x.shared, text)
		return err
	})
}

// runs gathers the text within an element up to its end.
func runs(d *xml.Decoder) (string, error) {
	var b strings.Builder
	err := within(d, func(el xml.StartElement) (bool, error) {
		if el.Name.Local == "rPh" {
			return true, skip(d)
		}
		return false, nil
	}, func(in string, _ int, text []byte) {
		if in == "t" && b.Len() < maxText {
			b.Write(text)
		}
	})
	return b.String(), err
}

// readStyles finds out which styles show a day or a time.
func (x *excel) readStyles() error {
	custom, cells := map[int]string{}, false
	return x.walk("xl/styles.xml", func(_ *xml.Decoder, el xml.StartElement) error {
		id, _ := strconv.Atoi(attr(el, "numFmtId"))
		switch el.Name.Local {
		case "numFmt":
			custom[id] = attr(el, "formatCode")
		case "cellXfs", "cellStyleXfs", "cellStyles":
			cells = el.Name.Local == "cellXfs"
		case "xf":
			if cells {
				x.dates = append(x.dates, dateFormat(id, custom[id]))
			}
		}
		return nil
	})
}

func (x *excel) read(name string) (*Sheet, error) {
	s := &Sheet{Name: name, From1904: x.from1904}
	var g gathered
	line := 0
	err := x.walk(x.places[name], func(d *xml.Decoder, el xml.StartElement) error {
		if el.Name.Local != "row" {
			return nil
		}
		line++
		if at, err := strconv.Atoi(attr(el, "r")); err == nil && at >= line && at <= 1<<20 {
			line = at
		}
		cells, err := x.row(d, line, s)
		if err != nil {
			return err
		}
		return g.add(line, cells)
	})
	if err != nil {
		return nil, fmt.Errorf("sheet %s: %w", name, err)
	}
	s.Rows = g.rows
	return s, nil
}

// row reads up to the end of its row; cells that are not there are empty.
func (x *excel) row(d *xml.Decoder, line int, s *Sheet) ([]string, error) {
	var cells []string
	err := within(d, func(el xml.StartElement) (bool, error) {
		if el.Name.Local != "c" {
			return false, nil
		}
		text, err := x.cell(d, el, line, s)
		if err != nil {
			return true, err
		}
		at := columnOf(attr(el, "r"), len(cells))
		if at >= MaxColumns {
			if text == "" {
				return true, nil
			}
			return true, tooWide(fmt.Sprintf("row %d", line), at+1)
		}
		for len(cells) <= at {
			cells = append(cells, "")
		}
		cells[at] = text
		return true, nil
	}, nil)
	return cells, err
}

// cell reads one cell up to its end: t says what it holds, v the value as it is stored.
func (x *excel) cell(d *xml.Decoder, el xml.StartElement, line int, s *Sheet) (string, error) {
	value, inline, formula := "", "", false
	if err := within(d, func(part xml.StartElement) (read bool, err error) {
		switch part.Name.Local {
		case "is":
			inline, err = runs(d)
			return true, err
		case "f":
			formula = true
		}
		return false, nil
	}, func(in string, _ int, text []byte) {
		if in == "v" && len(value) < maxText {
			value += string(text)
		}
	}); err != nil {
		return "", err
	}
	style, _ := strconv.Atoi(attr(el, "s"))
	switch attr(el, "t") {
	case "s":
		if i, err := strconv.Atoi(value); err == nil && i >= 0 && i < len(x.shared) {
			return x.shared[i], nil
		}
		return "", fmt.Errorf("the cell %s names a text that is not there; open the file and save it again", attr(el, "r"))
	case "inlineStr":
		return inline, nil
	case "e":
		s.Notices = append(s.Notices, fmt.Sprintf("line %d: %s is an error of the spreadsheet and was left out", line, value))
		return "", nil
	case "b":
		return map[string]string{"0": "no", "1": "yes"}[value], nil
	case "str", "d":
		return strings.Replace(value, "T", " ", boolInt(attr(el, "t") == "d")), nil
	}
	if value == "" && formula {
		s.Notices = append(s.Notices, fmt.Sprintf("line %d: the formula in %s has no value and was skipped. Open the file, let it calculate and save it", line, attr(el, "r")))
	}
	v, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return value, nil
	}
	if style >= 0 && style < len(x.dates) && x.dates[style] {
		if day, ok := Day(v, x.from1904); ok {
			return day, nil
		}
	}
	return number(value, v), nil
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// columnOf is the number of the column in "AB12", from 0; the next one where there is no name.
func columnOf(at string, next int) int {
	n := 0
	for _, r := range at {
		if r < 'A' || r > 'Z' || n > 1<<15 {
			break
		}
		n = n*26 + int(r-'A') + 1
	}
	if n == 0 {
		return next
	}
	return n - 1
}
