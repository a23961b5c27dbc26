package workbook

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// dateFormat says that a number format shows a day or a time (ECMA-376 part 1, 18.8.30: the built-in formats 14 to
// 22 and 45 to 47; 27 to 36 and 50 to 58 are those of East Asia).
func dateFormat(id int, custom string) bool {
	if custom == "" {
		return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
	}
	quoted, bracket, skip := false, false, false
	inside := ""
	for _, r := range strings.ToLower(custom) {
		switch {
		case skip:
			skip = false
		case r == '\\' || r == '_' || r == '*':
			skip = true
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '[':
			bracket, inside = true, ""
		case r == ']':
			bracket = false
			if strings.Trim(inside, "hms") == "" && inside != "" {
				return true
			}
		case bracket:
			inside += string(r)
		case strings.ContainsRune("dmyhs", r):
			return true
		}
	}
	return false
}

// Day writes the number of a spreadsheet's day as a date, with the time of day where there is one: 2019-05-04,
// 2019-05-04 14:30, or 14:30 alone for a part of a day. It counts from 1899-12-30, or from 1904-01-01; false for a
// number that is no day, and for the first sixty of 1900, which programs count differently.
func Day(v float64, from1904 bool) (string, bool) {
	zero := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if from1904 {
		zero = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	if math.IsNaN(v) || v < 0 || v > 2_958_465 || v >= 1 && v < 61 && !from1904 {
		return "", false
	}
	days, part := math.Modf(v)
	at := zero.AddDate(0, 0, int(days)).Add(time.Duration(math.Round(part*24*60*60)) * time.Second)
	switch {
	case v < 1 && at.Second() == 0:
		return at.Format("15:04"), true
	case v < 1:
		return at.Format("15:04:05"), true
	case part == 0:
		return at.Format("2006-01-02"), true
	case at.Second() == 0:
		return at.Format("2006-01-02 15:04"), true
	}
	return at.Format("2006-01-02 15:04:05"), true
}

// number keeps digits as they are stored, so that no number of a chip is rounded, and writes others with 15
// significant digits, which is as many as a spreadsheet has.
func number(text string, v float64) string {
	if text != "" && strings.Trim(strings.TrimPrefix(text, "-"), "0123456789") == "" {
		return text
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || math.Abs(v) > 1e18 {
		return text
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
