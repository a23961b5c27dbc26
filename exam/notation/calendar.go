package notation

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// DayOrder says how a date like 3/4/2026 is meant.
type DayOrder string

// The orders. Without one a date that can be read in two ways is asked about.
const (
	AskDayOrder DayOrder = ""
	MonthFirst  DayOrder = "month first" // 11/25/2026
	DayFirst    DayOrder = "day first"   // 25/11/2026
)

// Calendar turns dates as people type them into those that the record keeps.
type Calendar struct {
	Order DayOrder
	// Past lets spans count back from Now: 3d is three days ago. Where it is false the text is left to ReadMoment, for
	// which 3d is three days from now.
	Past bool
	Now  time.Time
}

var (
	// figuresDate is 11/25/2026, 25.11.2026, 25-11-26, with what may stand before and behind.
	figuresDate = regexp.MustCompile(`^(about )?(\d{1,2})([/.-])(\d{1,2})[/.-](\d{4}|\d{2})\b(.*)$`)
	// monthDate is 11/2026.
	monthDate = regexp.MustCompile(`^(about )?(\d{1,2})[/.](\d{4})$`)
	// dayWordDate is 25 Nov 2026, wordDayDate Nov 25, 2026, wordDate Nov 2026.
	dayWordDate = regexp.MustCompile(`^(about )?(\d{1,2})(?:st|nd|rd|th)?[ .-]*([a-z]{3,9})[ .,-]*(\d{4})\b(.*)$`)
	wordDayDate = regexp.MustCompile(`^(about )?([a-z]{3,9})[ .-]*(\d{1,2})(?:st|nd|rd|th)?[ ,.-]+(\d{4})\b(.*)$`)
	wordDate    = regexp.MustCompile(`^(about )?([a-z]{3,9})[ .,-]*(\d{4})$`)
	// spanBack is 3d, 3 weeks ago, 3 weeks old.
	spanBack = regexp.MustCompile(`^(\d{1,4})\s*([a-z]+?)(?: (?:ago|old))?$`)
)

// ISO returns the text with its date as 2026-11-25 (ISO 8601), and what stands behind the date as it is; a text that holds
// no such date comes back as it was, for the reader of the field to judge. Understood are 11/25/2026 and 3/4/2026 by Order,
// 25.11.2026, 25 Nov 2026, Nov 25, 2026, 11/2026, and with Past also today, yesterday, 3d, 3 weeks ago, 3 weeks old. The
// error is a *Refusal: a date that can be read in two ways, a day that no month has, a year of two digits.
func (c Calendar) ISO(text string) (string, error) {
	typed := CleanLine(text, 60)
	clean := strings.ToLower(typed)
	iso, err := c.iso(clean)
	switch {
	case err != nil:
		return text, &Refusal{Typed: typed, Why: err.Error()}
	case iso == "":
		return text, nil
	}
	return iso, nil
}

// iso is empty for a text without such a date.
func (c Calendar) iso(text string) (string, error) {
	if p := figuresDate.FindStringSubmatch(text); p != nil {
		day, month, err := c.dayAndMonth(p[2], p[4], p[3] == ".", p[5])
		if err != nil {
			return "", err
		}
		return isoDay(p[1], p[5], month, day, p[6])
	}
	if p := monthDate.FindStringSubmatch(text); p != nil {
		return isoMonth(p[1], p[3], atoi(p[2]))
	}
	if p := dayWordDate.FindStringSubmatch(text); p != nil {
		if month, ok := monthOf(p[3]); ok {
			return isoDay(p[1], p[4], month, atoi(p[2]), p[5])
		}
	}
	if p := wordDayDate.FindStringSubmatch(text); p != nil {
		if month, ok := monthOf(p[2]); ok {
			return isoDay(p[1], p[4], month, atoi(p[3]), p[5])
		}
	}
	if p := wordDate.FindStringSubmatch(text); p != nil {
		if month, ok := monthOf(p[2]); ok {
			return isoMonth(p[1], p[3], month)
		}
	}
	if c.Past {
		return c.back(text), nil
	}
	return "", nil
}

// dayAndMonth tells the day from the month of two figures. Figures with dots are the day first, as they are written where
// dots are used.
func (c Calendar) dayAndMonth(first, second string, dots bool, year string) (day, month int, err error) {
	a, b := atoi(first), atoi(second)
	switch {
	case dots || a > 12 || a == b:
		return a, b, nil
	case b > 12 || c.Order == MonthFirst:
		return b, a, nil
	case c.Order == DayFirst:
		return a, b, nil
	}
	return 0, 0, fmt.Errorf("%d/%d/%s is %d %s or %d %s. Write the month as a word, or set the order in the settings",
		a, b, year, a, time.Month(b), b, time.Month(a))
}

func isoDay(about, year string, month, day int, rest string) (string, error) {
	if len(year) == 2 {
		return "", fmt.Errorf("write the year with four digits, as 20%s", year)
	}
	if month < 1 || month > 12 {
		return "", fmt.Errorf("there is no month %d", month)
	}
	at := time.Date(atoi(year), time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if at.Day() != day || day < 1 {
		return "", fmt.Errorf("%s %s has no day %d", time.Month(month), year, day)
	}
	return about + at.Format(DayForm) + rest, nil
}

func isoMonth(about, year string, month int) (string, error) {
	if month < 1 || month > 12 {
		return "", fmt.Errorf("there is no month %d", month)
	}
	return fmt.Sprintf("%s%s-%02d", about, year, month), nil
}

// back reads today, yesterday, and a span before now. A span of hours keeps its hour, one of days or weeks its day; of
// months and years no more is known than the month, and about the year.
func (c Calendar) back(text string) string {
	word, rest, _ := strings.Cut(text, " ")
	if rest != "" {
		rest = " " + strings.TrimPrefix(rest, "at ")
	}
	switch word {
	case "today":
		return c.Now.Format(DayForm) + rest
	case "yesterday":
		return c.Now.AddDate(0, 0, -1).Format(DayForm) + rest
	}
	p := spanBack.FindStringSubmatch(text)
	if p == nil {
		return ""
	}
	n := atoi(p[1])
	switch p[2] {
	case "h", "hr", "hrs", "hour", "hours":
		return c.Now.Add(-time.Duration(n) * time.Hour).Format("2006-01-02 15:04")
	case "d", "day", "days":
		return c.Now.AddDate(0, 0, -n).Format(DayForm)
	case "w", "wk", "week", "weeks":
		return c.Now.AddDate(0, 0, -7*n).Format(DayForm)
	case "mo", "month", "months":
		return sameDay(c.Now.Year(), c.Now.Month()-time.Month(n), c.Now.Day()).Format("2006-01")
	case "y", "yr", "yrs", "year", "years":
		return "about " + strconv.Itoa(c.Now.Year()-n)
	}
	return ""
}

// atoi is a number of a few digits that a pattern found.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
