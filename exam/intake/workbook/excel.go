package workbook

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
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
		text, err := runs(d, "si")
		x.shared = append(x.shared, text)
		return err
	})
}

// runs gathers the text within an element up to its end.
func runs(d *xml.Decoder, end string) (string, error) {
	var b strings.Builder
	inside := false
	for {
		token, err := d.Token()
		if err != nil {
			return "", broken(err)
		}
		switch el := token.(type) {
		case xml.StartElement:
			if el.Name.Local == "rPh" {
				if err := d.Skip(); err != nil {
					return "", broken(err)
				}
			}
			inside = el.Name.Local == "t"
		case xml.CharData:
			if inside && b.Len() < 1<<16 {
				b.Write(el)
			}
		case xml.EndElement:
			inside = false
			if el.Name.Local == end {
				return b.String(), nil
			}
		}
	}
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
	for {
		token, err := d.Token()
		if err != nil {
			return nil, broken(err)
		}
		switch el := token.(type) {
		case xml.EndElement:
			if el.Name.Local == "row" {
				return cells, nil
			}
		case xml.StartElement:
			if el.Name.Local != "c" {
				continue
			}
			text, err := x.cell(d, el, line, s)
			if err != nil {
				return nil, err
			}
			at := columnOf(attr(el, "r"), len(cells))
			if at >= MaxColumns {
				if text == "" {
					continue
				}
				return nil, fmt.Errorf("row %d has more than %d columns; an exam has not so many", line, MaxColumns)
			}
			for len(cells) <= at {
				cells = append(cells, "")
			}
			cells[at] = text
		}
	}
}

// cell reads one cell up to its end: t says what it holds, v the value as it is stored.
func (x *excel) cell(d *xml.Decoder, el xml.StartElement, line int, s *Sheet) (string, error) {
	value, inline, formula := "", "", false
	in := ""
	for done := false; !done; {
		token, err := d.Token()
		if err != nil {
			return "", broken(err)
		}
		switch part := token.(type) {
		case xml.StartElement:
			in = part.Name.Local
			switch in {
			case "is":
				if inline, err = runs(d, "is"); err != nil {
					return "", err
				}
			case "f":
				formula = true
			}
		case xml.CharData:
			if in == "v" && len(value) < 1<<16 {
				value += string(part)
			}
		case xml.EndElement:
			in = ""
			done = part.Name.Local == "c"
		}
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

func broken(err error) error {
	if errors.Is(err, io.EOF) {
		err = io.ErrUnexpectedEOF
	}
	return fmt.Errorf("the file is broken (%w); open it and save it again, or save it as CSV", err)
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
