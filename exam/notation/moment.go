package notation

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Moment is a day to come, or a time of it.
type Moment struct {
	Day string     // 2026-03-04, where the clock of this place stands
	At  *time.Time // nil where only the day is said; whole minutes
}

// clockOfDay is the form of a time of day (20:00, 8 pm, 8:30am).
var clockOfDay = regexp.MustCompile(`^(\d{1,2})(?::(\d{2}))?\s*(am|pm)?$`)

// tonightAt is what "tonight" means without an hour, and tonightFrom and tonightTo
// the hours that it can mean; our own.
const (
	tonightAt   = 20
	tonightFrom = 18
	tonightTo   = 5
)

// ReadMoment reads a time to come, as people write it: a span from now (1h, in 2 h,
// 90 min, 3 days), a time of today (20:00, 8 pm, tonight), a day with or without a
// time (tomorrow 8:00, Mon, next week, 2026-03-04, 2026-03-04 18:00). "Mon" is the
// next Monday, "next week" this day in a week, "tonight" alone 20:00. Refused are
// what is over, an hour that may be of the morning or of the evening, and a time
// that the clocks skip or show twice as they change. Errors are a *Refusal.
func ReadMoment(text string, now time.Time) (Moment, error) {
	typed := CleanLine(text, 40)
	iso, err := Calendar{}.ISO(typed)
	if err != nil {
		return Moment{}, err
	}
	m, err := momentOf(strings.Join(strings.Fields(strings.ToLower(iso)), " "), now)
	if err == nil {
		err = m.coming(now)
	}
	if err != nil {
		return Moment{}, &Refusal{Typed: typed, Why: err.Error()}
	}
	return m, nil
}

// coming refuses what is over, and what lies further off than any plan.
func (m Moment) coming(now time.Time) error {
	if year, err := strconv.Atoi(m.Day[:4]); err != nil || len(m.Day) != len(DayForm) || year > now.Year()+30 {
		return fmt.Errorf("%s is more than thirty years away", Shown(m.Day))
	}
	switch {
	case m.At != nil && !m.At.After(now) && m.Day == now.Format(DayForm):
		return fmt.Errorf("%s is over today; for tomorrow write tomorrow %s", m.At.Format("15:04"), m.At.Format("15:04"))
	case m.At != nil && !m.At.After(now):
		return fmt.Errorf("%s is over", m.At.Format("2 Jan 2006 15:04"))
	case m.Day < now.Format(DayForm):
		return fmt.Errorf("%s is not a day to come", Shown(m.Day))
	}
	return nil
}

func momentOf(text string, now time.Time) (Moment, error) {
	if at, err := time.Parse(time.RFC3339, strings.ToUpper(text)); err == nil {
		return atMinute(at.In(now.Location())), nil
	}
	if m, ok, err := spanOf(strings.TrimPrefix(text, "in "), now); ok || err != nil {
		return m, err
	}
	day, clock, ok := dayOf(text, now)
	switch {
	case text == "":
		return Moment{}, errors.New("type when: 1h, 20:00, tonight, tomorrow 8:00, Mon, 4 Mar 2026")
	case !ok:
		return Moment{}, fmt.Errorf("%q is no time to come that is understood: write 1h, 20:00, tonight, tomorrow 8:00, Mon, 4 Mar 2026", text)
	case clock == "" && !strings.HasPrefix(text, "tonight"):
		return Moment{Day: day.Format(DayForm)}, nil
	case strings.HasPrefix(text, "tonight"):
		return tonight(clock, day)
	}
	hour, minute, err := readClock(clock)
	if err != nil {
		return Moment{}, err
	}
	return onClock(day, hour, minute)
}

// atMinute is a moment in whole minutes.
func atMinute(at time.Time) Moment {
	at = at.Truncate(time.Minute).Round(0)
	return Moment{Day: at.Format(DayForm), At: &at}
}

// dayOf is the day that a text begins with, at noon, and the time behind it; a
// time alone is of today.
func dayOf(text string, now time.Time) (day time.Time, clock string, ok bool) {
	if n := len(DayForm); len(text) > n && text[n] == 't' { // 2026-03-04t18:00
		text = text[:n] + " " + text[n+1:]
	}
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimPrefix(rest, "at ")
	year, month, d := now.Date()
	noon := func(days int) time.Time { return time.Date(year, month, d+days, 12, 0, 0, 0, now.Location()) }
	switch {
	case word == "today", word == "tonight":
		return noon(0), rest, true
	case word == "tomorrow":
		return noon(1), rest, true
	}
	if at, err := time.ParseInLocation(DayForm, word, now.Location()); err == nil {
		return time.Date(at.Year(), at.Month(), at.Day(), 12, 0, 0, 0, now.Location()), rest, true
	}
	for n := 1; n <= 7; n++ {
		name := strings.ToLower(noon(n).Weekday().String())
		if len(word) >= 3 && strings.HasPrefix(name, word) {
			return noon(n), rest, true
		}
	}
	if clockOfDay.MatchString(text) || text == "noon" {
		return noon(0), text, true
	}
	return now, "", false
}

// readClock reads a time of day; an hour alone is not known to be of the morning.
func readClock(text string) (hour, minute int, err error) {
	if text == "noon" {
		return 12, 0, nil
	}
	p := clockOfDay.FindStringSubmatch(text)
	if p == nil {
		return 0, 0, fmt.Errorf("%q is no time of day: write 20:00 or 8 pm", text)
	}
	hour, _ = strconv.Atoi(p[1])
	minute, _ = strconv.Atoi("0" + p[2])
	switch {
	case p[3] != "" && (hour < 1 || hour > 12):
		return 0, 0, fmt.Errorf("%q is no time of day: with am or pm the hour is 1 to 12", text)
	case p[3] != "":
		hour = hour%12 + map[string]int{"pm": 12}[p[3]]
	case p[2] == "" && hour > 0 && hour < 13:
		return 0, 0, fmt.Errorf("%d:00 or %d:00? Write the minutes too", hour, (hour+12)%24)
	case p[2] == "":
		return 0, 0, fmt.Errorf("%q is no time of day: write %d:00", text, hour)
	}
	if hour > 23 || minute > 59 {
		return 0, 0, fmt.Errorf("there is no time %s on a clock", text)
	}
	return hour, minute, nil
}

// tonight is a time from 18:00 to 4:59 of the night that begins on a day; an hour
// alone is the one of the two that is in it.
func tonight(clock string, day time.Time) (Moment, error) {
	if clock == "" {
		return onClock(day, tonightAt, 0)
	}
	if n, err := strconv.Atoi(clock); err == nil && n >= 6 && n <= 11 {
		clock = strconv.Itoa(n+12) + ":00"
	} else if err == nil && n >= 1 && n < tonightTo {
		clock += ":00"
	}
	hour, minute, err := readClock(clock)
	switch {
	case err != nil:
		return Moment{}, err
	case hour >= tonightTo && hour < tonightFrom:
		return Moment{}, fmt.Errorf("tonight is from 18:00 to 4:59; %d:%02d is not", hour, minute)
	case hour < tonightTo:
		day = day.AddDate(0, 0, 1)
	}
	return onClock(day, hour, minute)
}

// onClock is a time of day; one that the clocks skip, or show twice, is refused.
func onClock(day time.Time, hour, minute int) (Moment, error) {
	at := time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, day.Location())
	if at.Hour() != hour || at.Minute() != minute {
		return Moment{}, fmt.Errorf("there is no %d:%02d on %s: the clocks change then", hour, minute, day.Format(DayShown))
	}
	for _, by := range []time.Duration{-time.Hour, -30 * time.Minute, 30 * time.Minute, time.Hour} {
		if o := at.Add(by); o.Hour() == hour && o.Minute() == minute {
			return Moment{}, fmt.Errorf("%d:%02d comes twice on %s, as the clocks change: write in how many hours", hour, minute, day.Format(DayShown))
		}
	}
	return atMinute(at), nil
}

// Words is the moment for a person, as it is said before it is stored: "today
// 20:00, in 1 h 12 min", "Monday 9 Mar 2026, in 7 days".
func (m Moment) Words(now time.Time) string {
	day, err := time.Parse(DayForm, m.Day)
	if err != nil {
		return m.Day
	}
	today, _ := time.Parse(DayForm, now.Format(DayForm))
	days := int(day.Sub(today).Hours() / 24)
	text := day.Format("Monday 2 Jan 2006")
	switch days {
	case 0:
		text = "today"
	case 1:
		text = "tomorrow"
	}
	if m.At != nil {
		text += " " + m.At.In(now.Location()).Format("15:04")
		if left := m.At.Sub(now); left < 48*time.Hour {
			return text + ", in " + spanWords(left)
		}
	}
	switch days {
	case 0:
		return text + ", " + day.Format("2 Jan 2006")
	case 1:
		return text + ", " + day.Format("Monday 2 Jan 2006")
	}
	return fmt.Sprintf("%s, in %d days", text, days)
}
