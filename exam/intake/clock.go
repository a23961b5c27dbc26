package intake

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/intake/workbook"
	"loosebox/exam/ownfile"
)

// readClock reads a time of day: 14:30, 14.30, 2:30 pm, 1430, 9 am.
func readClock(text string) (time.Duration, error) {
	bad := fmt.Errorf("%s is no time of day; write it as 14:30", ownfile.Quote(text))
	if v, err := strconv.ParseFloat(text, 64); err == nil && strings.HasPrefix(text, "0.") && v < 1 {
		text, _ = workbook.Day(v, false) // a part of a day, as spreadsheets keep it
	}
	m := clockTime.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil || m[2] == "" && m[4] == "" && m[5] == "" && m[6] == "" {
		return 0, bad
	}
	h, _ := strconv.Atoi(m[1])
	min, _ := strconv.Atoi(cmp.Or(m[2], m[4], "0"))
	sec, _ := strconv.Atoi(cmp.Or(m[3], "0"))
	if half := strings.ToLower(m[5]); half != "" {
		if h < 1 || h > 12 {
			return 0, bad
		}
		h %= 12
		if half[0] == 'p' {
			h += 12
		}
	}
	if h > 23 || min > 59 || sec > 59 {
		return 0, bad
	}
	return time.Duration(h)*time.Hour + time.Duration(min)*time.Minute + time.Duration(sec)*time.Second, nil
}

// readDate reads a date, with or without a time of day, in the zone where it was written; a time of day beside it, in a
// column of its own, may be given. A date alone stands for noon. A date and time with an offset of its own, as RFC 3339
// has it, is taken with that.
func readDate(text, clock string, f dayForm, zone *time.Location) (time.Time, error) {
	if at, err := time.Parse(time.RFC3339, text); err == nil {
		return old(text, at)
	}
	d, err := readDay(text, f)
	if err != nil {
		return time.Time{}, err
	}
	at := time.Date(d.y, time.Month(d.m), d.d, 0, 0, 0, 0, zone)
	if d.m < 1 || d.m > 12 || d.d < 1 || at.Day() != d.d {
		return time.Time{}, fmt.Errorf("%s is no date of the calendar", ownfile.Quote(text))
	}
	since := noon
	if rest := cmp.Or(clock, strings.TrimSpace(d.rest)); rest != "" {
		if since, err = readClock(rest); err != nil {
			return time.Time{}, err
		}
	}
	return old(text, time.Date(d.y, time.Month(d.m), d.d, 0, 0, int(since/time.Second), 0, zone))
}

func old(text string, at time.Time) (time.Time, error) {
	if at.Year() < 1900 {
		return time.Time{}, fmt.Errorf("%s lies before 1900; exams are not so old", ownfile.Quote(text))
	}
	return at, nil
}
