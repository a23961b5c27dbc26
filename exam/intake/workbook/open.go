package workbook

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// readOpen reads content.xml of an .ods file (OpenDocument 1.3, part 3, 9.1: tables, rows, cells).
func readOpen(part *zip.File, name string) (*Sheet, error) {
	var shown []string
	hidden := map[string]bool{}
	if err := walk(part, func(d *xml.Decoder, el xml.StartElement, style string) error {
		switch el.Name.Local {
		case "table-properties":
			if attr(el, "display") == "false" {
				hidden[style] = true
			}
		case "table":
			if !hidden[attr(el, "style-name")] {
				shown = append(shown, attr(el, "name"))
			}
			return skip(d)
		}
		return nil
	}); err != nil {
		return nil, err
	}
	return choose(shown, name, func(n string) (*Sheet, error) { return readTable(part, n) })
}

func readTable(part *zip.File, name string) (*Sheet, error) {
	var g gathered
	line, done := 1, false
	err := walk(part, func(d *xml.Decoder, el xml.StartElement, _ string) error {
		switch {
		case el.Name.Local == "table" && (attr(el, "name") != name || done):
			return skip(d)
		case el.Name.Local == "table":
			done = true
		case el.Name.Local == "table-row":
			cells, err := readRow(d)
			if err != nil {
				return err
			}
			times := repeated(el, "number-rows-repeated")
			for i := 0; i < times && !empty(cells); i++ { // counted, not made, where it is empty
				if err := g.add(line+i, append([]string(nil), cells...)); err != nil {
					return err
				}
			}
			line += times
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return &Sheet{Name: name, Rows: g.rows}, nil
}

func empty(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// readRow reads up to the end of its row. A cell that a merged one covers is empty.
func readRow(d *xml.Decoder) ([]string, error) {
	var cells []string
	err := within(d, func(el xml.StartElement) (bool, error) {
		if el.Name.Local != "table-cell" && el.Name.Local != "covered-table-cell" {
			return false, nil
		}
		text, err := readCell(d, el)
		if err != nil {
			return true, err
		}
		times := repeated(el, "number-columns-repeated")
		if text != "" && len(cells)+times > MaxColumns {
			return true, tooWide("a row", len(cells)+times)
		}
		for range min(times, MaxColumns-len(cells)) {
			cells = append(cells, text)
		}
		return true, nil
	}, nil)
	return cells, err
}

// readCell is what a cell holds: a day, a time, a number as stored, or its text.
func readCell(d *xml.Decoder, el xml.StartElement) (string, error) {
	text, err := readText(d)
	if err != nil {
		return "", err
	}
	switch attr(el, "value-type") {
	case "date":
		day, clock, _ := strings.Cut(attr(el, "date-value"), "T")
		if clock == "" || strings.HasPrefix(clock, "00:00:00") {
			return day, nil
		}
		return day + " " + strings.TrimSuffix(clock[:min(len(clock), 8)], ":00"), nil
	case "time":
		var h, m int
		if n, err := fmt.Sscanf(attr(el, "time-value"), "PT%dH%dM", &h, &m); err == nil && n == 2 {
			return fmt.Sprintf("%02d:%02d", h, m), nil
		}
	case "float", "currency":
		if v, err := strconv.ParseFloat(attr(el, "value"), 64); err == nil {
			return number(attr(el, "value"), v), nil
		}
	}
	return text, nil
}

// readText reads the paragraphs of a cell up to its end, without those of a comment beside it.
func readText(d *xml.Decoder) (string, error) {
	var b strings.Builder
	err := within(d, func(el xml.StartElement) (bool, error) {
		switch el.Name.Local {
		case "annotation", "table", "frame":
			return true, skip(d)
		case "s", "tab", "line-break":
			b.WriteByte(' ')
		case "p":
			if b.Len() > 0 {
				b.WriteByte(' ')
			}
		}
		return false, nil
	}, func(_ string, depth int, text []byte) {
		if depth > 0 && b.Len() < maxText {
			b.Write(text)
		}
	})
	return b.String(), err
}

// repeated is how often a cell or row is there.
func repeated(el xml.StartElement, name string) int {
	n, err := strconv.Atoi(attr(el, name))
	if err != nil || n < 1 {
		return 1
	}
	return min(n, 1<<21)
}
