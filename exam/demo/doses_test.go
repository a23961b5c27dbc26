package demo_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/demo"
	"loosebox/exam/steps"
)

// A paper that names no lot leaves it empty: a page would print the word for a lot otherwise.
func TestADoseFromPapersHasNoInventedLot(t *testing.T) {
	yard, err := demo.Yard(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	doses := 0
	for _, animal := range yard {
		for _, visit := range animal.Visits {
			for _, e := range visit {
				if e.Injection != nil && e.Injection.Order != nil {
					doses++
					assert.NotContains(t, []string{"none", "unknown", "-"}, e.Injection.Order.Lot)
				}
			}
		}
	}
	assert.Positive(t, doses)
}
