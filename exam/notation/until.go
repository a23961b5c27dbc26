package notation

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// longestDecision bounds the end of a decision; a longer one is a slip of the year.
const longestDecision = 366 * 24 * time.Hour

// daysForm is a span of days, which ends a decision at this time of a later day.
var daysForm = regexp.MustCompile(`^(?:in )?(\d{1,3}) ?(?:d|days?)$`)

// ReadUntil reads the end of a decision: what ReadMoment reads, a day to its end and
// a span of days from now. An empty text is no end: nil, and the decision holds for
// DecisionLasts. Errors are a *Refusal.
func ReadUntil(text string, now time.Time) (*time.Time, error) {
	typed := CleanLine(text, 40)
	if typed == "" {
		return nil, nil
	}
	m, err := ReadMoment(typed, now)
	if err != nil {
		return nil, err
	}
	at := m.At
	if days := daysForm.FindStringSubmatch(strings.ToLower(typed)); at == nil && days != nil {
		n, _ := strconv.Atoi(days[1])
		end := now.Add(time.Duration(n) * 24 * time.Hour).Truncate(time.Minute)
		at = &end
	} else if at == nil {
		day, err := time.ParseInLocation(DayForm, m.Day, now.Location())
		if err != nil {
			return nil, &Refusal{Typed: typed, Why: err.Error()}
		}
		end := day.AddDate(0, 0, 1).Add(-time.Minute)
		at = &end
	}
	switch {
	case !at.After(now):
		return nil, &Refusal{Typed: typed, Why: fmt.Sprintf("%s is over already: a decision valid until a moment to come", at.Format("2 Jan 2006 15:04"))}
	case at.Sub(now) > longestDecision:
		return nil, &Refusal{Typed: typed, Why: "a decision is valid for a year at most"}
	}
	return at, nil
}
