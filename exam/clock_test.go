package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
)

// A dead clock battery dates an exam years before those that are there: somebody is told
// before it begins. Two laptops that differ by minutes are no matter.
func TestAClockThatIsBehindIsTold(t *testing.T) {
	now := time.Date(2025, 11, 30, 9, 0, 0, 0, time.UTC)
	horses := []exam.Found{{LastAt: now.AddDate(1, 0, 0)}, {}, {LastAt: now.AddDate(-1, 0, 0)}}
	assert.Equal(t, "The clock says 30 Nov 2025 09:00, but a visit is dated 30 Nov 2026 09:00. Look which is right, and set the clock before you examine.",
		exam.ClockBehind(exam.Newest(horses), now))
	for _, newest := range []time.Time{{}, now.AddDate(-1, 0, 0), now, now.Add(59 * time.Minute)} {
		assert.Empty(t, exam.ClockBehind(newest, now))
	}
	assert.NotEmpty(t, exam.ClockBehind(now.Add(61*time.Minute), now))
	assert.Zero(t, exam.Newest(nil))
}
