package notation

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// spanAhead is the form of a span (1h, 1.5 h, 1 h 30).
var spanAhead = regexp.MustCompile(`^(\d{1,4})(?:[.,](\d))?\s*([a-z]+)(?:\s*(\d{1,2})\s*(?:min|m)?)?$`)

// spanOf reads a span from now; an error names a unit that is two things.
func spanOf(text string, now time.Time) (m Moment, ok bool, err error) {
	text = strings.NewReplacer("half an hour", "30 min", "an hour", "1 h", "a week", "1 w", "a day", "1 d").Replace(text)
	if text == "next week" {
		text = "7 d"
	}
	p := spanAhead.FindStringSubmatch(text)
	if p == nil {
		return Moment{}, false, nil
	}
	n, _ := strconv.Atoi(p[1]) // four digits at most
	tenths, _ := strconv.Atoi("0" + p[2])
	more, _ := strconv.Atoi("0" + p[4])
	hours := p[3] == "h" || p[3] == "hr" || p[3] == "hrs" || p[3] == "hour" || p[3] == "hours"
	switch {
	case hours:
		span := time.Duration(n)*time.Hour + time.Duration(tenths)*6*time.Minute + time.Duration(more)*time.Minute
		return spanFrom(now, span)
	case p[2] != "" || p[4] != "":
		return Moment{}, false, nil
	}
	switch p[3] {
	case "min", "mins", "minute", "minutes":
		return spanFrom(now, time.Duration(n)*time.Minute)
	case "m":
		return Moment{}, true, fmt.Errorf("%d minutes or %d months? Write %d min or %d mo", n, n, n, n)
	}
	unit, known := map[string]string{
		"d": "d", "day": "d", "days": "d", "w": "w", "week": "w", "weeks": "w", "mo": "mo", "month": "mo", "months": "mo", "y": "y", "year": "y", "years": "y",
	}[p[3]]
	if !known {
		return Moment{}, false, nil
	}
	if n < 1 {
		return Moment{}, true, fmt.Errorf("a day to come is one day away at least")
	}
	return Moment{Day: daysAhead(n, unit, now).Format(DayForm)}, true, nil
}

// spanFrom is a moment a span from now, in whole minutes.
func spanFrom(now time.Time, span time.Duration) (Moment, bool, error) {
	if span <= 0 {
		return Moment{}, true, fmt.Errorf("that is now; a time to come is a minute away at least")
	}
	return atMinute(now.Add(span)), true, nil
}

func daysAhead(n int, unit string, now time.Time) time.Time {
	year, month, day := now.Date()
	switch unit {
	case "w":
		return time.Date(year, month, day+7*n, 0, 0, 0, 0, time.UTC)
	case "mo":
		return sameDay(year, month+time.Month(n), day)
	case "y":
		return sameDay(year+n, month, day)
	}
	return time.Date(year, month, day+n, 0, 0, 0, 0, time.UTC)
}

// spanWords is a span in hours and minutes, rounded up to a minute.
func spanWords(d time.Duration) string {
	minutes := int((d + time.Minute - 1) / time.Minute)
	switch h, m := minutes/60, minutes%60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %d min", h, m)
	}
}

// Span is a length of time as people write it: "30 min", "1 h 30 min".
func Span(d time.Duration) string { return spanWords(d) }
