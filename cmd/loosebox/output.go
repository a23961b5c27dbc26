package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// printJSON writes one object, indented, to the results.
func (e *env) printJSON(v any) error {
	e.printed = true
	enc := json.NewEncoder(e.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("write the result: %w", err)
	}
	return nil
}

// printf writes to the results.
func (e *env) printf(format string, args ...any) error {
	if _, err := fmt.Fprintf(e.out, format, args...); err != nil {
		return fmt.Errorf("write the result: %w", err)
	}
	return nil
}

// columns writes rows as a table; the last column is not padded.
func columns(w io.Writer, rows [][]string) error {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], ansi.StringWidth(cell))
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			b.WriteString(cell)
			if i < len(row)-1 {
				b.WriteString(strings.Repeat(" ", wide[i]-ansi.StringWidth(cell)+2))
			}
		}
		if _, err := fmt.Fprintln(w, strings.TrimRight(b.String(), " ")); err != nil {
			return fmt.Errorf("write the result: %w", err)
		}
	}
	return nil
}
