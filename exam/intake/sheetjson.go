package intake

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"loosebox/exam/notation"
)

// readJSON reads an array of objects, one an exam, whose names are those of the
// CSV's columns. Values are texts, numbers, true, false or null.
func (s *sheet) readJSON(data []byte, e *FileError) {
	in := &jsonRows{data: data, dec: json.NewDecoder(bytes.NewReader(data)), e: e, sheet: s, at: map[string]int{}}
	in.dec.UseNumber()
	if !in.array() && len(e.Problems) == 0 {
		e.Add(in.line(), "not the JSON of exams; write [ {\"id\": \"1\", \"heart.rate\": 40}, ... ]")
	}
	for i := range s.rows { // objects need not name every column
		for len(s.rows[i].cells) < len(s.head) {
			s.rows[i].cells = append(s.rows[i].cells, "")
		}
	}
}

type jsonRows struct {
	data  []byte
	dec   *json.Decoder
	e     *FileError
	sheet *sheet
	at    map[string]int // name -> column

	seen, lines int // bytes that were looked at for line ends, and how many there were
}

// line is where the reader stands. It goes on from where it last counted.
func (j *jsonRows) line() int {
	here := int(j.dec.InputOffset())
	j.lines += bytes.Count(j.data[j.seen:here], []byte("\n"))
	j.seen = here
	return j.lines + 1
}

// token reads one token; false after saying what is wrong.
func (j *jsonRows) token() (json.Token, bool) {
	t, err := j.dec.Token()
	if err != nil {
		what := err.Error()
		if errors.Is(err, io.EOF) {
			what = "it ends in the middle"
		}
		j.e.Add(j.line(), "not JSON: %s", what)
	}
	return t, err == nil
}

func (j *jsonRows) array() bool {
	if t, ok := j.token(); !ok || t != json.Delim('[') {
		return false
	}
	for j.dec.More() {
		if len(j.sheet.rows) == MaxRows {
			j.e.Add(j.line(), "more than %d exams; split the file", MaxRows)
			return false
		}
		if !j.object() {
			return false
		}
	}
	if _, ok := j.token(); !ok {
		return false
	}
	if _, err := j.dec.Token(); !errors.Is(err, io.EOF) {
		j.e.Add(j.line(), "something stands after the end of the array")
	}
	return true
}

func (j *jsonRows) object() bool {
	if t, ok := j.token(); !ok || t != json.Delim('{') {
		return false
	}
	row := sheetRow{line: j.line()}
	seen := map[int]bool{}
	for j.dec.More() {
		name, ok := j.token()
		if !ok {
			return false
		}
		text, _ := name.(string)
		column, ok := j.column(notation.CleanLine(text, 80))
		if !ok {
			return false
		}
		cell, ok := j.value(text)
		if !ok {
			return false
		}
		if seen[column] {
			j.e.AddAt(j.line(), text, "named twice in one exam")
		}
		seen[column] = true
		for len(row.cells) <= column {
			row.cells = append(row.cells, "")
		}
		row.cells[column] = cell
	}
	j.sheet.rows = append(j.sheet.rows, row)
	_, ok := j.token()
	return ok
}

func (j *jsonRows) column(name string) (int, bool) {
	if i, ok := j.at[name]; ok {
		return i, true
	}
	if len(j.sheet.head) == maxColumns {
		j.e.AddAt(j.line(), name, "more than %d names; an exam has not so many", maxColumns)
		return 0, false
	}
	j.at[name] = len(j.sheet.head)
	j.sheet.head = append(j.sheet.head, name)
	return j.at[name], true
}

func (j *jsonRows) value(name string) (string, bool) {
	t, ok := j.token()
	if !ok {
		return "", false
	}
	switch t := t.(type) {
	case string:
		j.sheet.cut(j.e, j.line(), name, t)
		return notation.CleanLine(t, maxCell), true
	case json.Number:
		return notation.CleanLine(t.String(), 40), true
	case bool:
		if t {
			return "yes", true
		}
		return "no", true
	case nil:
		return "", true
	default:
		j.e.AddAt(j.line(), name, "a value is a text, a number, true, false or null")
		return "", false
	}
}
