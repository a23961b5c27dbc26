package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/intake/workbook"
	"loosebox/exam/ownfile"
)

// noon is the time of day of an exam of which only the date is known.
const noon = 12 * time.Hour

// order is which of three numbers is the day. A format of a map sets it.
type order string

const (
	notSaid    order = ""
	dayFirst   order = "DMY"
	monthFirst order = "MDY"
	yearFirst  order = "YMD"
)

// dayForm says how a column writes its dates.
type dayForm struct {
	order    order // of three numbers
	serial   int   // 1900 or 1904: the zero year of days that are a bare number; 0 where nothing says it
	asked    bool  // the map leaves open what nobody but the owner of the file can say
	explicit bool  // the map says it
}

// readForm reads the format of a map: YYYY-MM-DD, DD/MM/YYYY hh:mm, D.M.YYYY, MM/DD/YY, "serial 1900", "serial 1904",
// "ask", or several of them with commas between. Signs between the numbers and leading zeros do not matter.
func readForm(text string) (dayForm, bool) {
	f := dayForm{explicit: true}
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		switch lower := strings.ToLower(part); lower {
		case "ask":
			f.asked = true
			continue
		case "serial 1900", "serial", "1900":
			f.serial = 1900
			continue
		case "serial 1904", "1904":
			f.serial = 1904
			continue
		case "day first":
			part = "DMY"
		case "month first":
			part = "MDY"
		}
		o, ok := orderOf(part)
		if !ok || f.order != notSaid && o != yearFirst && f.order != yearFirst && o != f.order {
			return f, false
		}
		if o != yearFirst || f.order == notSaid {
			f.order = o
		}
	}
	return f, true
}

// String is the form as a map has it; empty where nothing is known.
func (f dayForm) String() string {
	var parts []string
	switch f.order {
	case dayFirst:
		parts = append(parts, "DD/MM/YYYY")
	case monthFirst:
		parts = append(parts, "MM/DD/YYYY")
	case yearFirst, notSaid:
	}
	if f.serial != 0 {
		parts = append(parts, fmt.Sprintf("serial %d", f.serial))
	}
	if f.asked {
		parts = append(parts, askWord)
	}
	return strings.Join(parts, ", ")
}

// orderOf is the order of D, M and Y in a form; the time of day behind it is read in any case.
func orderOf(form string) (order, bool) {
	date := strings.TrimRight(form, "hms: .apAP\t")
	seen := ""
	for _, r := range strings.ToUpper(date) {
		switch {
		case strings.ContainsRune("DMY", r):
			if !strings.HasSuffix(seen, string(r)) {
				seen += string(r)
			}
		case !strings.ContainsRune("/.- T", r):
			return notSaid, false
		}
	}
	o := order(seen)
	if o != dayFirst && o != monthFirst && o != yearFirst {
		return notSaid, false
	}
	return o, true
}

var (
	isoDay    = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]+(.+))?$`)
	eightDay  = regexp.MustCompile(`^(19\d\d|20\d\d)(\d\d)(\d\d)(?:[T ]+(.+))?$`)
	threeDay  = regexp.MustCompile(`^(\d{1,2})\s*([/.\-])\s*(\d{1,2})\s*([/.\-])\s*(\d{4}|'?\d{2})\.?(?:[, ]+(?:at )?(.+))?$`)
	dayName   = regexp.MustCompile(`^(?i)(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)[a-z]*\.?,?\s+(\S.*)$`)
	named     = regexp.MustCompile(`^(?i)(\d{1,2})(?:st|nd|rd|th)?[-. /]*([a-z]{3,9})\.?[-, /]*(\d{4}|'?\d{2})(?:[, ]+(?:at )?(.+))?$`)
	namedUS   = regexp.MustCompile(`^(?i)([a-z]{3,9})\.?[- ]*(\d{1,2})(?:st|nd|rd|th)?[-, /]+(\d{4}|'\d{2})(?:[, ]+(?:at )?(.+))?$`)
	serialDay = regexp.MustCompile(`^[1-9]\d{4}(?:\.\d+)?$`)
	clockTime = regexp.MustCompile(`^(?i)(\d{1,2})(?:[:.h](\d{2})(?::(\d{2})(?:\.\d+)?)?|(\d{2}))?\s*(a\.?m?\.?|p\.?m?\.?)?\s*(hrs?|h|o'clock)?$`)
)

// day is a date as it was read, before anybody says in which zone.
type day struct {
	y, m, d int
	rest    string // the time of day
	either  bool   // the order of the numbers decided it
}

// readDay reads a date in the order that a column has. A date whose three numbers can be read in two ways, with no
// order known, is an error that says so.
func readDay(text string, f dayForm) (day, error) {
	text = strings.TrimSpace(text)
	if m := dayName.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	num := func(s string) int { n, _ := strconv.Atoi(strings.TrimPrefix(s, "'")); return n }
	if m := isoDay.FindStringSubmatch(text); m != nil {
		return day{num(m[1]), num(m[2]), num(m[3]), m[4], false}, nil
	}
	if m := eightDay.FindStringSubmatch(text); m != nil {
		return day{num(m[1]), num(m[2]), num(m[3]), m[4], false}, nil
	}
	if m := named.FindStringSubmatch(text); m != nil {
		if month, ok := monthNamed(m[2]); ok {
			return day{whole(m[3]), month, num(m[1]), m[4], false}, nil
		}
	}
	if m := namedUS.FindStringSubmatch(text); m != nil {
		if month, ok := monthNamed(m[1]); ok {
			return day{whole(m[3]), month, num(m[2]), m[4], false}, nil
		}
	}
	if serialDay.MatchString(text) {
		return readSerial(text, f)
	}
	m := threeDay.FindStringSubmatch(text)
	if m == nil || m[2] != m[4] {
		return day{}, fmt.Errorf("%s is no date; write it as 2019-05-04 or give the column a format such as DD/MM/YYYY", ownfile.Quote(text))
	}
	return threeNumbers(text, num(m[1]), num(m[3]), m[5], m[6], f)
}

func threeNumbers(text string, a, b int, year, rest string, f dayForm) (day, error) {
	o := f.order
	if o == yearFirst && len(year) == 2 { // 19/05/04
		d, _ := strconv.Atoi(year)
		return day{whole(fmt.Sprintf("%02d", a)), b, d, rest, true}, nil
	}
	switch {
	case a > 12 && b <= 12 && o != monthFirst:
		o = dayFirst
	case b > 12 && a <= 12 && o != dayFirst:
		o = monthFirst
	case a == b && o == notSaid:
		o = dayFirst
	}
	switch {
	case o == dayFirst:
		return day{whole(year), b, a, rest, a != b}, nil
	case o == monthFirst:
		return day{whole(year), a, b, rest, a != b}, nil
	case f.order == notSaid:
		return day{}, fmt.Errorf("%s", askOrder(text, a, b))
	}
	return day{}, fmt.Errorf("%s is no date of the form that the mapping gives", ownfile.Quote(text))
}

// askOrder puts the question that nobody but the owner of the file can answer.
func askOrder(text string, a, b int) string {
	forms := [2]string{"DD/MM/YYYY", "MM/DD/YYYY"}
	if strings.Contains(text, ".") {
		forms = [2]string{"D.M.YYYY", "M.D.YYYY"}
	}
	return fmt.Sprintf("is %s day %d of month %d, or month %d, day %d? Nothing in the file settles it: give the column format: %s or format: %s",
		text, a, b, a, b, forms[0], forms[1])
}

// readSerial reads a bare number as a day of a spreadsheet.
func readSerial(text string, f dayForm) (day, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || f.serial == 0 {
		a, _ := workbook.Day(v, false)
		b, _ := workbook.Day(v, true)
		return day{}, fmt.Errorf("is %s the day %s, or %s as old Macs count? Nothing in the file settles it: give the column format: serial 1900 or format: serial 1904", text, a, b)
	}
	written, ok := workbook.Day(v, f.serial == 1904)
	if !ok {
		return day{}, fmt.Errorf("%s is no day", ownfile.Quote(text))
	}
	return readDay(written, dayForm{})
}

// whole is a year of four digits: of two, 69 to 99 are of the last century, as package time and most programs have it.
func whole(text string) int {
	n, _ := strconv.Atoi(strings.TrimPrefix(text, "'"))
	switch {
	case len(strings.TrimPrefix(text, "'")) > 2:
		return n
	case n >= 69:
		return 1900 + n
	}
	return 2000 + n
}

func monthNamed(text string) (int, bool) {
	text = strings.ToLower(text)
	for m := time.January; m <= time.December; m++ {
		name := strings.ToLower(m.String())
		if text == name || text == name[:3] || m == time.September && text == "sept" {
			return int(m), true
		}
	}
	return 0, false
}
