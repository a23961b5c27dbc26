package gs1

import (
	"fmt"
	"strconv"
	"time"
)

// date reads YYMMDD as a day. Where open is true the day may be 00, which is the last
// of the month. The century is the one that brings the year nearest to now: 51 years
// ahead or more is the last century, 50 back or more the next.
func date(text string, open bool, now time.Time) (time.Time, error) {
	yy, _ := strconv.Atoi(text[:2]) // digits only
	month, _ := strconv.Atoi(text[2:4])
	day, _ := strconv.Atoi(text[4:6])
	year := now.Year() - now.Year()%100 + yy
	switch ahead := yy - now.Year()%100; {
	case ahead >= 51:
		year -= 100
	case ahead <= -50:
		year += 100
	}
	if month < 1 || month > 12 {
		return time.Time{}, fmt.Errorf("there is no month %d", month)
	}
	last := time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC)
	switch {
	case day == 0 && open:
		return last, nil
	case day == 0:
		return time.Time{}, fmt.Errorf("there is no day 0")
	case day > last.Day():
		return time.Time{}, fmt.Errorf("%s %d has no day %d", last.Month(), year, day)
	}
	return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC), nil
}

// sums says that the last of some digits is their check digit: modulo 10, with the
// weights 3, 1, 3 … from the right before it.
func sums(digits string) bool {
	sum, weight := 0, 3
	for i := len(digits) - 2; i >= 0; i-- {
		sum += int(digits[i]-'0') * weight
		weight = 4 - weight
	}
	return len(digits) > 1 && int(digits[len(digits)-1]-'0') == (10-sum%10)%10
}
