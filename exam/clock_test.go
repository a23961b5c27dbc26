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
	assert.Equal(t, "The clock says 30 Nov 2025 09:00, but a visit is dated 30 Nov 2026 09:00. Look which is right, and set the clock first.",
		exam.ClockBehind(exam.Newest(horses), now))
	for _, newest := range []time.Time{{}, now.AddDate(-1, 0, 0), now, now.Add(59 * time.Minute)} {
		assert.Empty(t, exam.ClockBehind(newest, now))
	}
	assert.NotEmpty(t, exam.ClockBehind(now.Add(61*time.Minute), now))
	assert.Zero(t, exam.Newest(nil))
}

// A foal's visit that is gone on with days later keeps the ranges of its first hours: who goes on is told.
func TestAVisitThatBeganLongAgoSaysSo(t *testing.T) {
	opened := time.Date(2026, 3, 2, 4, 0, 0, 0, time.UTC)
	foal := exam.Visit{OpenedAt: opened, Horse: exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{At: opened.Add(-2 * time.Hour), Precision: exam.BornMinute}}}
	adult := exam.Visit{OpenedAt: opened, Horse: exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{Precision: exam.BornAdult}}}
	assert.Empty(t, exam.BegunBefore(foal, opened.Add(time.Hour)))
	assert.Empty(t, exam.BegunBefore(adult, opened.Add(11*time.Hour)))
	assert.Empty(t, exam.BegunBefore(adult, opened.Add(-time.Hour)), "a clock that is behind is said elsewhere")
	assert.Equal(t, "This visit began 5 h ago. Its ranges are those of then: foal, 1 to 6 hours. By now it is: foal, 1 to 24 hours. For what you find now, finish it and begin another.",
		exam.BegunBefore(foal, opened.Add(5*time.Hour)))
	assert.Equal(t, "This visit began 30 days ago. For what you find now, finish it and begin another.", exam.BegunBefore(adult, opened.Add(30*24*time.Hour)))
	closed := adult
	closed.ClosedAt = &opened
	assert.Empty(t, exam.BegunBefore(closed, opened.Add(30*24*time.Hour)))
}
