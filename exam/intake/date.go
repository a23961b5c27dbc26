package intake

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam/ownfile"
)

// noon is the time of day of an exam of which only the date is known.
const noon = 12 * time.Hour

// layoutOf turns DD/MM/YYYY hh:mm into the layout of package time; false where
// day, month or year is missing.
func layoutOf(form string) (string, bool) {
	layout := strings.NewReplacer("YYYY", "2006", "YY", "06", "MM", "01", "DD", "02", "hh", "15", "mm", "04", "ss", "05").Replace(form)
	whole := (strings.Contains(layout, "2006") || strings.Contains(layout, "06")) && strings.Contains(layout, "01") && strings.Contains(layout, "02")
	return layout, whole
}

// readDate reads a date, with or without a time of day, in the zone where it was
// written. Without a layout: 2019-05-04, 2019-05-04 14:30, 2019-05-04T14:30, or
// RFC 3339 with its own offset, a month by its name, and the further layouts that
// were found in the file. A date alone stands for noon.
func readDate(text, layout string, zone *time.Location, found ...string) (time.Time, error) {
	layouts := append([]string{"2006-01-02", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05", time.RFC3339}, found...)
	if monthByName.MatchString(text) {
		layouts = append(layouts, namedLayouts()...)
	}
	if layout != "" {
		layouts = []string{layout}
	}
	for _, l := range layouts {
		at, err := time.ParseInLocation(l, text, zone)
		if err != nil {
			continue
		}
		if !strings.Contains(l, "15") {
			at = at.Add(noon)
		}
		if at.Year() < 1900 {
			return time.Time{}, fmt.Errorf("%s lies before 1900; exams are not so old", ownfile.Quote(text))
		}
		return at, nil
	}
	if layout != "" {
		return time.Time{}, fmt.Errorf("%s is no date of the form that the mapping gives", ownfile.Quote(text))
	}
	return time.Time{}, fmt.Errorf("%s is no date; write it as 2019-05-04 or give the column a format such as DD/MM/YYYY", ownfile.Quote(text))
}
