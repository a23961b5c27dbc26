package notation

import (
	"fmt"
	"time"
)

// Dates words the moments of a set so that no two of them read alike: the day
// alone where it is the only one of its day, with the time where it is not.
type Dates struct {
	days, minutes map[string]instants
}

// instants is how often a day or a minute comes up in a set, by its first moment.
type instants struct {
	first  time.Time
	shared bool
}

// DayShown is how a day is written for a person: 2 Mar 2026. Files and JSON have DayForm.
const DayShown = "2 Jan 2006"

// Forms of a date for a person.
const (
	dateForm = DayShown
	timeForm = "15:04"
)

// NewDates makes the set. The same moment twice counts once.
func NewDates(at ...time.Time) Dates {
	d := Dates{days: make(map[string]instants, len(at)), minutes: make(map[string]instants, len(at))}
	for _, t := range at {
		count(d.days, t.Format(dateForm), t)
		count(d.minutes, t.Format(dateForm+timeForm), t)
	}
	return d
}

func count(set map[string]instants, key string, at time.Time) {
	held, known := set[key]
	if !known {
		held.first = at
	}
	held.shared = held.shared || !held.first.Equal(at)
	set[key] = held
}

// Show is the date of a moment among the others: "2 Mar 2026", or "2 Mar 2026
// 11:05" where another of the set has the same day. A moment that is not in the
// set is told apart from those in it.
func (d Dates) Show(at time.Time) string {
	text := at.Format(dateForm)
	if !meets(d.days, text, at) {
		return text
	}
	if meets(d.minutes, at.Format(dateForm+timeForm), at) {
		return at.Format(dateForm + " 15:04:05")
	}
	return at.Format(dateForm + " " + timeForm)
}

// Fit is Show for a column of a width: without the year where there is no room for
// day, year and time.
func (d Dates) Fit(at time.Time, width int) string {
	text := d.Show(at)
	if len(text) <= width || len(text) == len(at.Format(dateForm)) {
		return text
	}
	return at.Format("2 Jan") + text[len(at.Format(dateForm)):]
}

// Clash says that some two moments of the set share a day.
func (d Dates) Clash() bool {
	for _, held := range d.days {
		if held.shared {
			return true
		}
	}
	return false
}

func meets(set map[string]instants, key string, at time.Time) bool {
	held, known := set[key]
	return known && (held.shared || !held.first.Equal(at))
}

// Shown is a date of the record as a person reads it: "2026-03-04 20:00" is "4 Mar 2026 20:00", "2026-03" is "Mar 2026".
// What stands behind the date stays; a text that begins with no such date comes back as it is. Calendar reads both.
func Shown(text string) string {
	for _, f := range []struct{ file, shown string }{{DayForm, DayShown}, {"2006-01", "Jan 2006"}} {
		n := len(f.file)
		if len(text) < n || len(text) > n && text[n] != ' ' {
			continue
		}
		if at, err := time.Parse(f.file, text[:n]); err == nil {
			return at.Format(f.shown) + text[n:]
		}
	}
	return text
}

// ShownSpan is the first and the last day of a span: "10 to 24 Mar 2026", "28 May to 28 Jun 2026".
func ShownSpan(from, to time.Time) string {
	form := DayShown
	switch {
	case from.Year() == to.Year() && from.YearDay() == to.YearDay():
		return to.Format(DayShown)
	case from.Year() == to.Year() && from.Month() == to.Month():
		form = "2"
	case from.Year() == to.Year():
		form = "2 Jan"
	}
	return from.Format(form) + " to " + to.Format(DayShown)
}

// Clock is a moment by the clock that a person reads now, "11:05", also where it was saved in another time zone.
func Clock(at, now time.Time) string { return at.In(now.Location()).Format(timeForm) }

// ShownAt is the same with its day, "2 Mar 2026 11:05".
func ShownAt(at, now time.Time) string {
	return at.In(now.Location()).Format(DayShown + " " + timeForm)
}

// ClockDay is the clock alone of a moment of today, and has its day before it where it is of another.
func ClockDay(at, now time.Time) string {
	if SameDay(at, now) {
		return Clock(at, now)
	}
	return ShownAt(at, now)
}

// ShownOn is its day alone, "2 Mar 2026".
func ShownOn(at, now time.Time) string { return at.In(now.Location()).Format(DayShown) }

// SameDay says that a moment is of the day that the clock now shows.
func SameDay(at, now time.Time) bool {
	return at.In(now.Location()).Format(DayForm) == now.Format(DayForm)
}

// SayWhen says a past moment as it is read aloud: "one hour ago, 19:22", "yesterday,
// Sunday 1 March, 19:22", "30 January, 9:35" without its time where that is long ago.
// A moment ahead of now is said with its day and time.
func SayWhen(at, now time.Time) string {
	at = at.In(now.Location())
	clock, ago := at.Format(timeForm), now.Sub(at)
	today := at.Format(DayForm) == now.Format(DayForm)
	switch {
	case ago < 0 && today:
		return "at " + clock
	case ago < 0:
		return at.Format("Monday 2 January, ") + clock
	case ago < time.Minute:
		return "just now, " + clock
	case ago < time.Hour:
		return said(int(ago/time.Minute), "minute") + " ago, " + clock
	case today:
		return said(int(ago/time.Hour), "hour") + " ago, " + clock
	case at.Format(DayForm) == now.AddDate(0, 0, -1).Format(DayForm):
		return at.Format("yesterday, Monday 2 January, ") + clock
	}
	return SayDay(at, now)
}

// SayDay says the day of a past moment: "today", "yesterday", "30 January", with its
// year where that is another.
func SayDay(at, now time.Time) string {
	at = at.In(now.Location())
	switch day := at.Format(DayForm); {
	case day == now.Format(DayForm):
		return "today"
	case day == now.AddDate(0, 0, -1).Format(DayForm):
		return "yesterday"
	case at.Year() != now.Year():
		return at.Format("2 January 2006")
	}
	return at.Format("2 January")
}

func said(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
