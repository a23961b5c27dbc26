package exam

import (
	"fmt"
	"time"
)

// clockSlack is by how much the clocks of two laptops may differ before anybody is told.
const clockSlack = time.Hour

// ClockBehind is a sentence that the newest visit is dated more than an hour later than the clock,
// so that ages, due days and the order of visits may be wrong; empty where it is not.
func ClockBehind(newest, now time.Time) string {
	if !newest.After(now.Add(clockSlack)) {
		return ""
	}
	const form = "2 Jan 2006 15:04"
	return fmt.Sprintf("The clock says %s, but a visit is dated %s. Look which is right, and set the clock first.",
		now.Format(form), newest.In(now.Location()).Format(form))
}

// longOpen is how long after its beginning a visit is gone on with before anybody is told (our own).
const longOpen = 12 * time.Hour

// BegunBefore is a sentence that an open visit was begun more than 12 hours ago, or that the animal
// has grown into another class since: its ages and ranges stay those of the beginning. Empty where
// neither is so.
func BegunBefore(v Visit, now time.Time) string {
	gone := now.Sub(v.OpenedAt)
	then, today := v.Class().Name, ClassOf(v.Horse, now).Name
	if v.Closed() || gone < longOpen && (gone < 0 || then == today) {
		return ""
	}
	text := fmt.Sprintf("This visit began %s ago.", longSpan(max(gone, 0).Truncate(time.Hour)))
	if then != today {
		text += fmt.Sprintf(" Its ranges are those of then: %s. By now it is: %s.", then, today)
	}
	return text + " For what you find now, finish it and begin another."
}

// Newest is when the newest visit of all horses was opened; the zero time for none.
func Newest(horses []Found) (at time.Time) {
	for _, f := range horses {
		if f.LastAt.After(at) {
			at = f.LastAt
		}
	}
	return at
}
