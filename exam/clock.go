package exam

import (
	"fmt"
	"time"
)

// clockSlack is by how much the clocks of two laptops may differ before anybody is told.
const clockSlack = time.Hour

// ClockBehind says for a person that a visit is dated later than the clock: what is due, ages
// and the order of visits go wrong with it. It is empty where no visit is, by an hour and more.
func ClockBehind(newest, now time.Time) string {
	if !newest.After(now.Add(clockSlack)) {
		return ""
	}
	const form = "2 Jan 2006 15:04"
	return fmt.Sprintf("The clock says %s, but a visit is dated %s. Look which is right, and set the clock before you examine.",
		now.Format(form), newest.In(now.Location()).Format(form))
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
