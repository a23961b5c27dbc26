package exam

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// longestDecision bounds the end of a decision; a longer one is a slip of the year.
const longestDecision = 366 * 24 * time.Hour

// ReadUntil reads the end of a decision: a time of today (18:00), a day to its
// end (2026-03-04), both (2026-03-04 18:00), or a span from now (6h, 3d). An empty
// text is no end: nil, and the decision holds for DecisionLasts. Errors are a
// *Refusal.
func ReadUntil(text string, now time.Time) (*time.Time, error) {
	typed := CleanLine(text, 40)
	if typed == "" {
		return nil, nil
	}
	at, ok := untilOf(strings.ToLower(typed), now)
	switch {
	case !ok:
		return nil, &Refusal{Typed: typed, Why: fmt.Sprintf("%q is no end that is understood: write 18:00, 2026-03-04, 2026-03-04 18:00, 6h or 3d", typed)}
	case !at.After(now):
		return nil, &Refusal{Typed: typed, Why: fmt.Sprintf("%s is over already: a decision holds until a moment to come", at.Format("2006-01-02 15:04"))}
	case at.Sub(now) > longestDecision:
		return nil, &Refusal{Typed: typed, Why: "a decision holds for a year at most; ask again then"}
	}
	return &at, nil
}

func untilOf(text string, now time.Time) (time.Time, bool) {
	year, month, day := now.Date()
	if t, err := time.Parse("15:04", text); err == nil {
		return time.Date(year, month, day, t.Hour(), t.Minute(), 0, 0, now.Location()), true
	}
	if t, err := time.ParseInLocation("2006-01-02 15:04", strings.Replace(text, "t", " ", 1), now.Location()); err == nil {
		return t, true
	}
	if t, err := time.ParseInLocation(DayForm, text, now.Location()); err == nil {
		return t.AddDate(0, 0, 1).Add(-time.Minute), true
	}
	for unit, span := range map[string]time.Duration{"h": time.Hour, "d": 24 * time.Hour} {
		digits, found := strings.CutSuffix(text, unit)
		n, err := strconv.Atoi(strings.TrimSpace(digits))
		if found && err == nil && n > 0 && n <= 10_000 {
			return now.Add(time.Duration(n) * span).Truncate(time.Minute), true
		}
	}
	return time.Time{}, false
}
