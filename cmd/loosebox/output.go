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
	return writeJSON(e.out, v, "")
}

// printListJSON is printJSON of an object whose last field is an empty list: each hands on what
// belongs into it, which is written at once and not kept. Where each fails behind the first
// element, the error of the run closes the object.
func (e *env) printListJSON(empty any, each func(take func(any) error) error) error {
	text, err := indentedJSON(empty, "")
	if err != nil {
		return err
	}
	const end = "[]\n}"
	head, whole := strings.CutSuffix(text, end)
	if !whole {
		return fmt.Errorf("write the result: %T ends with no empty list", empty)
	}
	before := head + "[\n    "
	err = each(func(element any) error {
		text, err := indentedJSON(element, "    ")
		if err != nil {
			return err
		}
		e.printed, e.begun = true, true
		text, before = before+text, ",\n    "
		return e.printf("%s", text)
	})
	switch {
	case err != nil:
		return err
	case !e.begun:
		e.printed = true
		return e.printf("%s%s\n", head, end)
	}
	e.begun = false
	return e.printf("\n  ]\n}\n")
}

// endJSON prints the object of an error; where one was begun it is closed with the error.
func (e *env) endJSON(f failureJSON) error {
	if !e.begun {
		return e.printJSON(f)
	}
	text, err := indentedJSON(f.Error, "  ")
	if err != nil {
		return err
	}
	return e.printf("\n  ],\n  \"error\": %s\n}\n", text)
}

// indentedJSON is a value as printJSON writes it, each line but the first behind a prefix.
func indentedJSON(v any, prefix string) (string, error) {
	var b strings.Builder
	err := writeJSON(&b, v, prefix)
	return strings.TrimSuffix(b.String(), "\n"), err
}

func writeJSON(w io.Writer, v any, prefix string) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent(prefix, "  ")
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
