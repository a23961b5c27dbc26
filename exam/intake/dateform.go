package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// The forms of a date that people write, without those of ISO 8601: three numbers
// with one sign between them, or a month by its name.
var (
	threeNumbers = regexp.MustCompile(`^(\d{1,2})([/.\-])(\d{1,2})([/.\-])(\d{4}|\d{2})( \d{1,2}:\d{2})?$`)
	monthByName  = regexp.MustCompile(`(?i)[a-z]{3}`)
)

// namedLayouts are the layouts of dates with the month by its name, which nobody
// can take for another day.
func namedLayouts() []string {
	var out []string
	for _, l := range []string{"2 January 2006", "2 Jan 2006", "2-Jan-2006", "2-Jan-06", "2. January 2006", "January 2, 2006", "Jan 2, 2006", "January 2 2006", "Jan 2 2006"} {
		out = append(out, l, l+" 15:04")
	}
	return out
}

// dateForm finds out how a column without a format writes its dates. Where every
// date could be read both ways it asks; where one line settles it, it says so in a
// notice. The second result is a problem with its line, empty where there is none.
func dateForm(rows []sheetRow, column int) (layouts []string, notice, problem string, line int) {
	var dayFirst, monthFirst, either *sheetRow
	sign, short := "", false
	for i := range rows {
		r := &rows[i]
		m := threeNumbers.FindStringSubmatch(r.cells[column])
		if m == nil || m[2] != m[4] {
			continue
		}
		sign, short = m[2], len(m[5]) == 2
		a, _ := strconv.Atoi(m[1])
		b, _ := strconv.Atoi(m[3])
		switch {
		case a > 12 && b <= 12:
			dayFirst = r
		case b > 12 && a <= 12:
			monthFirst = r
		case a != b && either == nil:
			either = r
		}
	}
	switch {
	case sign == "":
		return nil, "", "", 0
	case dayFirst != nil && monthFirst != nil:
		return nil, "", fmt.Sprintf("the day stands first in line %d and the month in line %d; give the column one form of date", dayFirst.line, monthFirst.line), dayFirst.line
	case dayFirst == nil && monthFirst == nil && either != nil:
		return nil, "", ask(either.cells[column], sign, short), either.line
	}
	first, second, settled := "02", "01", dayFirst
	words := "day, month, year"
	if monthFirst != nil {
		first, second, settled, words = "01", "02", monthFirst, "month, day, year"
	}
	year := "2006"
	if short {
		year = "06"
	}
	layout := strings.Join([]string{strings.TrimPrefix(first, "0"), strings.TrimPrefix(second, "0"), year}, sign)
	if settled != nil {
		notice = fmt.Sprintf("dates are read as %s, because line %d has %s", words, settled.line, settled.cells[column])
	}
	return []string{layout, layout + " 15:04"}, notice, "", 0
}

// ask puts the question that nobody but the owner of the file can answer.
func ask(text, sign string, short bool) string {
	m := threeNumbers.FindStringSubmatch(text)
	year := "YYYY"
	if short {
		year = "YY"
	}
	forms := [2]string{strings.Join([]string{"DD", "MM", year}, sign), strings.Join([]string{"MM", "DD", year}, sign)}
	return fmt.Sprintf("is %s day %s of month %s, or month %s, day %s? Nothing in the file settles it: give the column format: %s or format: %s",
		text, m[1], m[3], m[1], m[3], forms[0], forms[1])
}
