// Package html sets a page as one self-contained HTML file: no script, nothing
// fetched, light and dark, and fit to print.
package html

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

//go:embed page.html
var source string

// Page is what is set.
type Page struct {
	Title  string // of the horse and the day
	Blocks []report.Block
	Charts []chart.Series
}

// Write sets the page. Every text of it is escaped, whatever it holds.
func Write(w io.Writer, p Page) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"label":  func(s string) string { return strings.TrimSpace(s) },
		"level":  levelClass,
		"short":  shortLabels,
		"legend": func() string { return chart.Legend },
		"sign":   chart.Sign,
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

// shortLabels says that no label of a block needs a wide column.
func shortLabels(b report.Block) bool {
	return !slices.ContainsFunc(b.Lines, func(l report.Line) bool { return len(strings.TrimSpace(l.Label)) > 14 })
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
