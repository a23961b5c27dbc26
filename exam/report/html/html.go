// Package html sets a page as one self-contained HTML file: no script, nothing
// fetched, light and dark, and fit to print.
package html

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"
	"unicode"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

//go:embed page.html
var source string

// Page is a page as it is set in HTML.
type Page struct {
	Title  string   // of the animal and the day
	Head   []string // of the practice, its name first
	Logo   []byte   // PNG or JPEG; empty for none
	Foot   string   // on every printed page, before its number
	Blocks []report.Block
	Charts []chart.Series
}

// Write sets the page. Every text of it is escaped, whatever it holds.
func Write(w io.Writer, p Page) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"label":  func(s string) string { return strings.TrimSpace(s) },
		"level":  levelClass,
		"short":  func(cell string) bool { return len(cell) <= 22 }, // a number with its unit, or its day, stays on one line
		"legend": func() string { return chart.Legend },
		"sign":   exam.Level.Sign,
		"data":   dataURL,
		"room":   func(n int) []struct{} { return make([]struct{}, n) },
		"parts":  parts,
		"last":   func(i int, b []report.Block) bool { return i == len(parts(b))-1 },
		"quoted": quoted,
		"svg":    func(s chart.Series) template.HTML { return template.HTML(chart.SVG(s)) }, //nolint:gosec // escapes every text itself
	}).Parse(source)
	if err != nil {
		return fmt.Errorf("the page template: %w", err)
	}
	if err := t.Execute(w, p); err != nil {
		return fmt.Errorf("the page cannot be written: %w", err)
	}
	return nil
}

// parts are the first page and the details.
func parts(blocks []report.Block) [][]report.Block {
	for i, b := range blocks {
		if b.NewPage || b.TwoColumns {
			return [][]report.Block{blocks[:i], blocks[i:]}
		}
	}
	return [][]report.Block{blocks}
}

// quoted is a text as a string of CSS: whatever is no letter, digit or space is written by its number.
func quoted(text string) template.CSS {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		if r == ' ' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "\\%06x ", r) // the space ends the number
		}
	}
	b.WriteByte('"')
	return template.CSS(b.String()) //nolint:gosec // nothing in it can end the string
}

// dataURL is a picture inside the page; only PNG and JPEG are let in.
func dataURL(b []byte) template.URL {
	kind := kindOf(b)
	if kind == "" {
		return ""
	}
	return template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(b)) //nolint:gosec // letters of base64 alone
}

func levelClass(l exam.Level) string {
	switch l {
	case ranges.LevelTell:
		return "tell"
	case ranges.LevelRecheck:
		return "recheck"
	case ranges.LevelNote:
		return "note"
	case ranges.LevelUsual:
	}
	return ""
}

// kindOf is the media type of a picture by its first bytes: PNG (W3C PNG 5.2) or JPEG
// (ITU T.81, SOI and the marker after it); empty for any other.
func kindOf(b []byte) string {
	switch {
	case bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case bytes.HasPrefix(b, []byte("\xff\xd8\xff")):
		return "image/jpeg"
	}
	return ""
}
