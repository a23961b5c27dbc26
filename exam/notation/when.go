package notation

import (
	"fmt"
	"strings"
	"time"
)

// ReadWhen reads when something happened, as people write it: "2026-03-04 09:30",
// "2026-03-04T09:30", "2026-03-04", "09:30" on the day of about, or "" for about
// itself. The zone is that of about. The error is a *Refusal.
func ReadWhen(text string, about time.Time) (time.Time, error) {
	iso, err := Calendar{}.ISO(text)
	if err != nil {
		return time.Time{}, err
	}
	clean := strings.ToLower(CleanLine(iso, 40))
	if clean == "" {
		return about, nil
	}
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02t15:04", "2006-01-02"} {
		if at, err := time.ParseInLocation(layout, clean, about.Location()); err == nil {
			return sane(text, at)
		}
	}
	if at, err := time.ParseInLocation("15:04", clean, about.Location()); err == nil {
		y, m, d := about.Date()
		return time.Date(y, m, d, at.Hour(), at.Minute(), 0, 0, about.Location()), nil
	}
	return time.Time{}, &Refusal{Typed: text, Why: fmt.Sprintf("%q is no time that is known here: write 4 Mar 2026 09:30, or 09:30", CleanLine(text, 40))}
}

func sane(text string, at time.Time) (time.Time, error) {
	if y := at.Year(); y < 1900 || y > 2200 {
		return time.Time{}, &Refusal{Typed: text, Why: fmt.Sprintf("the year %d is no year of a horse's record", y)}
	}
	return at, nil
}
