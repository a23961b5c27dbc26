package intake

import (
	"fmt"
	"strconv"
	"time"

	"loosebox/exam/intake/workbook"
)

// found is what the dates of a column show of how they are written.
type found struct {
	form   dayForm
	notice string            // how they are read, and which line settles it
	ask    string            // a question that only the owner of the file can answer
	line   int               // of the question
	days   string            // a question of bare numbers, which may be a second one
	forms  map[string]string // form -> an example
}

// findForm finds out how a column without a format writes its dates. Where every date could be read both ways it asks;
// where one line settles it, it says so. A day as a bare number is counted from 1900, unless both ways of
// counting give days that were; then it asks. Zero is the year from which the file itself says that it counts, or 0. Nothing is later than latest, where that is set.
func findForm(rows []sheetRow, column, zero int, latest time.Time) found {
	out := found{forms: map[string]string{}}
	var dayRow, monthRow, either, serial *sheetRow
	later := false
	for i := range rows {
		r := &rows[i]
		text := r.cells[column]
		if m := threeDay.FindStringSubmatch(text); m != nil && m[2] == m[4] {
			a, _ := strconv.Atoi(m[1])
			b, _ := strconv.Atoi(m[3])
			switch {
			case a > 12 && b <= 12:
				dayRow = first(dayRow, r)
			case b > 12 && a <= 12:
				monthRow = first(monthRow, r)
			case a != b:
				either = first(either, r)
			}
			out.example("three numbers with "+m[2], text)
			continue
		}
		switch {
		case serialDay.MatchString(text):
			serial = first(serial, r)
			v, _ := strconv.ParseFloat(text, 64)
			at, _ := workbook.Day(v, true)
			later = later || !latest.IsZero() && at > latest.Format(time.DateOnly)
			out.example("a bare number", text)
		case isoDay.MatchString(text):
			out.example("year, month, day", text)
		case named.MatchString(text), namedUS.MatchString(text), dayName.MatchString(text):
			out.example("the month by its name", text)
		case text != "" && eightDay.MatchString(text):
			out.example("eight digits", text)
		}
	}
	out.settle(dayRow, monthRow, either, column)
	switch {
	case serial == nil:
	case zero > 0:
		out.form.serial = zero
	case later:
		out.form.serial = 1900
	default:
		_, err := readSerial(serial.cells[column], dayForm{})
		out.days = err.Error()
		if out.ask == "" {
			out.ask, out.line = out.days, serial.line
		}
	}
	return out
}

func (f *found) example(form, text string) {
	if _, ok := f.forms[form]; !ok {
		f.forms[form] = text
	}
}

func first(have, r *sheetRow) *sheetRow {
	if have != nil {
		return have
	}
	return r
}

func (f *found) settle(dayRow, monthRow, either *sheetRow, column int) {
	switch {
	case dayRow != nil && monthRow != nil && either == nil: // each says itself
		f.notice = fmt.Sprintf("dates are written both ways, and each says itself which: line %d has %s, line %d has %s", dayRow.line, dayRow.cells[column], monthRow.line, monthRow.cells[column])
	case dayRow != nil && monthRow != nil:
		f.line = either.line
		f.ask = fmt.Sprintf("the day is first in line %d (%s) and the month in line %d (%s), so %s is not clear. Give the column format: DD/MM/YYYY or format: MM/DD/YYYY",
			dayRow.line, dayRow.cells[column], monthRow.line, monthRow.cells[column], either.cells[column])
	case dayRow != nil:
		f.form.order = dayFirst
		f.notice = fmt.Sprintf("dates are read as day, month, year, because line %d has %s", dayRow.line, dayRow.cells[column])
	case monthRow != nil:
		f.form.order = monthFirst
		f.notice = fmt.Sprintf("dates are read as month, day, year, because line %d has %s", monthRow.line, monthRow.cells[column])
	case either != nil:
		_, err := readDay(either.cells[column], dayForm{})
		if err != nil {
			f.ask, f.line = err.Error(), either.line
		}
	}
}
