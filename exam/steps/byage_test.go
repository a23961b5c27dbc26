package steps_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// A newborn is offered the newborn's routine, a foal the foal's, and a grown horse what was set.
func TestRoutineByAge(t *testing.T) {
	now := time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)
	for born, want := range map[string]string{
		"2026-02-28 03:20": steps.Newborn, "2026-02-24": steps.Newborn, "2026-02-20": steps.Youngster, "2025-11": steps.Youngster, "foal": steps.Youngster,
		"2025-01-01": "", "2017": "", "": "", "adult": "",
	} {
		for _, kind := range exam.Animals() {
			birth, err := exam.ReadBirth(born, "")
			require.NoError(t, err, born)
			got := steps.ByAge(exam.Horse{Kind: kind, Birth: birth}, now)
			assert.Equal(t, want, got, "%s %s", kind, born)
			if _, ok := steps.Find(steps.Routines(), got); got != "" {
				assert.True(t, ok, got)
			}
		}
	}
}
