package tap

import (
	"fmt"
	"time"
)

// MostSlip is how far the monotonic and the wall clock may part during one count.
const MostSlip = time.Second

// ClockSlip compares the length of a count by the monotonic clock with that by the wall clock. If they part by more
// than a second the machine slept or its clock was set: the error says so, and the count is to be thrown away.
func ClockSlip(monotonic, wall time.Duration) error {
	slip := wall - monotonic
	if slip.Abs() <= MostSlip {
		return nil
	}
	what := "the machine slept or its clock was set forward"
	if slip < 0 {
		what = "the machine's clock was set back"
	}
	return fmt.Errorf("this count is discarded: its two clocks differ by %.1f s, so %s. Count again",
		slip.Abs().Seconds(), what)
}
