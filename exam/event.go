package exam

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// The answers to an event step: something that happens once. A time may be known
// of what was seen.
const (
	EventSeen   = "seen"
	EventNotYet = "notyet"
)

// EventChoices are the choices of every event step.
func EventChoices() []Choice {
	return []Choice{{Key: EventSeen, Words: "seen"}, {Key: EventNotYet, Words: "not yet"}}
}

// SeenAt is the answer that an event was seen at a moment; without a moment,
// that nobody knows when.
func (s Step) SeenAt(at time.Time) Value {
	v := Value{Kind: KindEvent, Words: []string{EventSeen}}
	if !at.IsZero() {
		v.At = &at
	}
	return v
}

var (
	clockForm = regexp.MustCompile(`^(\d{1,2})[:.]?(\d{2})$`)
	afterForm = regexp.MustCompile(`^\+\s*(?:(\d{1,2})[:.](\d{2})|(\d{1,4}))\s*(?:min|m)?$`)
)

// ReadEvent reads when an event was seen: a time of day that has passed last,
// "03:40" or "340", of a foal of more than a day the first such time after its
// birth; minutes or hours and minutes after the birth, "+42" or
// "+1:30", where the birth is known to the minute; "seen" where nobody knows
// when; "not yet". A moment lies neither before the birth nor after now. The
// error is a *notation.Refusal.
func (s Step) ReadEvent(text string, born Birth, now time.Time) (Value, error) {
	typed := strings.ToLower(notation.CleanLine(text, 40))
	at, ok := time.Time{}, false
	if m := clockForm.FindStringSubmatch(typed); m != nil {
		hour, _ := strconv.Atoi(m[1])
		minute, _ := strconv.Atoi(m[2])
		if hour > 23 || minute > 59 {
			return Value{}, &notation.Refusal{Typed: typed, Why: typed + " is no time of day; it is written like 03:40"}
		}
		at, ok = clockTime(hour, minute, born, now), true
	} else if m := afterForm.FindStringSubmatch(typed); m != nil {
		if born.Precision != BornMinute {
			return Value{}, &notation.Refusal{Typed: typed, Why: "the minute of birth is not known, so type the time of day, like 03:40"}
		}
		hours, _ := strconv.Atoi("0" + m[1])
		minutes, _ := strconv.Atoi("0" + m[2] + m[3])
		at, ok = born.At.In(now.Location()).Add(time.Duration(hours*60+minutes)*time.Minute), true
	}
	if !ok {
		return s.ReadAnswer(text, notation.NoUnit)
	}
	switch {
	case at.After(now):
		return Value{}, &notation.Refusal{Typed: typed, Why: fmt.Sprintf("%s has not come yet; it is %s", at.Format("15:04"), now.Format("15:04"))}
	case born.Precision == BornMinute && at.Before(born.At.Truncate(time.Minute)):
		return Value{}, &notation.Refusal{Typed: typed, Why: fmt.Sprintf("%s lies before the birth at %s; look at both", at.Format("2 January 15:04"), born.At.In(now.Location()).Format("2 January 15:04"))}
	}
	v := s.SeenAt(at)
	v.Typed = notation.CleanLine(text, 40)
	return v, nil
}

// clockTime is the moment that a time of day means: the last that has passed, and
// of a foal born to the minute more than a day ago the first after the birth, as
// what it does then is a matter of hours.
func clockTime(hour, minute int, born Birth, now time.Time) time.Time {
	day := now
	old := born.Precision == BornMinute && now.Sub(born.At) > 24*time.Hour
	if old {
		day = born.At.In(now.Location())
	}
	at := time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, now.Location())
	switch {
	case old && at.Before(born.At.Truncate(time.Minute)):
		return at.AddDate(0, 0, 1)
	case at.After(now):
		return at.AddDate(0, 0, -1)
	}
	return at
}

// readEvent reads an answer without a clock to set it on: "seen", "not yet", or a
// whole date with its time and offset (RFC 3339).
func (s Step) readEvent(text string) (Value, error) {
	if at, err := time.Parse(time.RFC3339, strings.TrimSpace(text)); err == nil {
		return s.SeenAt(at), nil
	}
	c, err := s.readChoice(text)
	if err != nil {
		return Value{}, &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: "an event is seen at a time, such as 03:40, or not yet"}
	}
	return s.ChoiceValue(c.Key)
}

func (v Value) showEvent(s Step) string {
	text := v.showWords(s)
	switch {
	case v.At != nil:
		return text + " " + v.At.Format("2 Jan 15:04")
	case v.Has(EventSeen):
		return text + ", time not known"
	}
	return text
}
