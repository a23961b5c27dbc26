package notation

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Expiry is the date on a label: the last day on which a product may be used.
type Expiry struct {
	Typed string `json:"typed,omitempty"`
	Last  string `json:"last,omitempty"` // day, 2027-02-28
}

// DayForm is how a day without a time is written in the record.
const DayForm = "2006-01-02"

// Passed says that the product is expired on the day of a moment. An expiry that
// was not written down has not passed and is not good either: see Order.Check.
func (e Expiry) Passed(at time.Time) bool { return e.Last != "" && at.Format(DayForm) > e.Last }

// ReadExpiry reads the date on a label: 02/27, 2/2027, 2027-02, Feb 2027,
// 2027-02-15, 15 Feb 2027, 28/02/2027. A date without a day holds to the end of
// its month: 02/27 is the end of February 2027. What can be read in two ways is
// refused. Errors are a *Refusal.
func ReadExpiry(text string) (Expiry, error) {
	typed := CleanLine(text, 40)
	clean := strings.ToLower(typed)
	for _, word := range []string{"expiry", "expires", "exp", "use by", "use before", ":"} {
		clean = strings.TrimSpace(strings.TrimPrefix(clean, word))
	}
	clean = strings.TrimLeft(clean, ". ")
	if clean == "" {
		return Expiry{}, &Refusal{Typed: typed, Why: "the expiry is on the label; type it as 02/27 or 15 Feb 2027"}
	}
	fields := strings.FieldsFunc(spaced(clean), func(r rune) bool { return strings.ContainsRune(" /-.,", r) })
	year, month, day, err := dateOf(fields)
	if err != nil {
		return Expiry{}, &Refusal{Typed: typed, Why: fmt.Sprintf("%q is no expiry that is understood: %s", typed, err)}
	}
	last := time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC)
	if day > last.Day() {
		return Expiry{}, &Refusal{Typed: typed, Why: fmt.Sprintf("%s %d has no day %d", last.Month(), year, day)}
	}
	if day > 0 {
		last = time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	}
	return Expiry{Typed: typed, Last: last.Format(DayForm)}, nil
}

// spaced parts letters from digits, so that feb27 is two fields.
func spaced(text string) string {
	var b strings.Builder
	last := rune(' ')
	for _, r := range text {
		letter, before := r >= 'a' && r <= 'z', last >= 'a' && last <= 'z'
		if letter != before {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

func dateOf(fields []string) (year, month, day int, err error) {
	var numbers []string
	for _, f := range fields {
		if m, ok := monthOf(f); ok && month == 0 {
			month = m
			continue
		}
		if _, e := strconv.ParseUint(f, 10, 32); e != nil || len(f) > 4 {
			return 0, 0, 0, fmt.Errorf("%q is no part of a date", CleanLine(f, 12))
		}
		numbers = append(numbers, f)
	}
	if len(numbers) == 0 {
		return 0, 0, 0, fmt.Errorf("it has no year")
	}
	yearAt := len(numbers) - 1
	if len(numbers[0]) == 4 {
		yearAt = 0
	}
	if year, err = yearOf(numbers[yearAt]); err != nil {
		return 0, 0, 0, err
	}
	rest := append(append([]string{}, numbers[:yearAt]...), numbers[yearAt+1:]...)
	return monthAndDay(year, month, rest, yearAt == 0)
}

// monthAndDay reads what is left beside the year; yearFirst dates are ISO.
func monthAndDay(year, month int, rest []string, yearFirst bool) (int, int, int, error) {
	n := make([]int, len(rest))
	for i, f := range rest {
		n[i], _ = strconv.Atoi(f) // digits only, four at most
	}
	day := 0
	switch {
	case month > 0 && len(n) == 0:
	case month > 0 && len(n) == 1:
		day = n[0]
		if day == 0 {
			return 0, 0, 0, fmt.Errorf("there is no day 0")
		}
	case month == 0 && len(n) == 1:
		month = n[0]
	case month == 0 && len(n) == 2 && yearFirst:
		month, day = n[0], n[1]
	case month == 0 && len(n) == 2 && n[0] > 12:
		day, month = n[0], n[1]
	case month == 0 && len(n) == 2 && n[1] > 12:
		month, day = n[0], n[1]
	case month == 0 && len(n) == 2 && n[0] == n[1]:
		month, day = n[0], n[1]
	case month == 0 && len(n) == 2 && (n[0] == 0 || n[1] == 0):
		return 0, 0, 0, fmt.Errorf("there is no day 0 and no month 0")
	case month == 0 && len(n) == 2:
		either := func(month, day int) string {
			return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Format(DayShown)
		}
		return 0, 0, 0, fmt.Errorf("day and month could be either way round; type it as %s or %s", either(n[0], n[1]), either(n[1], n[0]))
	default:
		return 0, 0, 0, fmt.Errorf("type it as 02/27 or 15 Feb 2027")
	}
	if month < 1 || month > 12 {
		return 0, 0, 0, fmt.Errorf("there is no month %d", month)
	}
	if len(n) == 2 && day == 0 {
		return 0, 0, 0, fmt.Errorf("there is no day 0")
	}
	return year, month, day, nil
}

// yearOf reads a year of four digits, or of two in this century.
func yearOf(text string) (int, error) {
	y, _ := strconv.Atoi(text) // digits only, four at most
	switch {
	case len(text) == 2:
		return 2000 + y, nil
	case len(text) == 4 && y >= 2000 && y < 2100:
		return y, nil
	}
	return 0, fmt.Errorf("%q is no year of a label", text)
}

func monthOf(text string) (int, bool) {
	if len(text) < 3 {
		return 0, false
	}
	for m := time.January; m <= time.December; m++ {
		if strings.HasPrefix(strings.ToLower(m.String()), text) || text == "sept" && m == time.September {
			return int(m), true
		}
	}
	return 0, false
}

// ReadDay reads a day, month or year of the past as it stands in papers, and
// returns it as 2026-03-04, 2026-03 or 2026; Calendar's dates and spans are
// understood too. A day after now is refused.
func ReadDay(text string, now time.Time) (string, error) {
	iso, err := Calendar{Past: true, Now: now}.ISO(text)
	if err != nil {
		return "", err
	}
	clean := CleanLine(iso, 20)
	for _, form := range []string{DayForm, "2006-01", "2006"} {
		at, err := time.Parse(form, clean)
		if err != nil {
			continue
		}
		if at.Format(form) > now.Format(form) || at.Year() < 1980 {
			return "", &Refusal{Typed: clean, Why: fmt.Sprintf("%s lies after today, or before any horse alive was born", Shown(clean))}
		}
		return clean, nil
	}
	return "", &Refusal{Typed: clean, Why: "write a day as 4 Mar 2026, or Mar 2026 or 2026 where no more is known"}
}

// ReadComing reads a day that is still to come, for a recheck.
func ReadComing(text string, now time.Time) (string, error) {
	iso, err := Calendar{}.ISO(text)
	if err != nil {
		return "", err
	}
	clean := CleanLine(iso, 20)
	at, err := time.Parse(DayForm, clean)
	if err != nil {
		return "", &Refusal{Typed: clean, Why: "write a day as 4 Mar 2026"}
	}
	if clean < now.Format(DayForm) || at.Year() > now.Year()+30 {
		return "", &Refusal{Typed: clean, Why: fmt.Sprintf("%s is not a day to come", Shown(clean))}
	}
	return clean, nil
}

// ReadAhead is ReadMoment for a day without a time, as it stands on a label: "3d",
// "2w", "6mo", "1y", "tomorrow". A month that is too short gives its last day.
func ReadAhead(text string, now time.Time) (string, error) {
	m, err := ReadMoment(text, now)
	if err != nil || m.At != nil {
		return ReadComing(text, now)
	}
	return m.Day, nil
}

// sameDay is the day of a month, or its last one.
func sameDay(year int, month time.Month, day int) time.Time {
	first := time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)
	return first.AddDate(0, 0, min(day, first.AddDate(0, 1, -1).Day())-1)
}
