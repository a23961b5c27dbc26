package due_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/due"
	"loosebox/exam/examtest"
	"loosebox/ranges"
)

// No row of the schedule carries a tier that the weakest of its sources does not earn.
func TestNoSourceIsCalledMoreThanItIs(t *testing.T) {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, r := range table.Rows() {
		assert.Empty(t, examtest.NoSource(r.Source), "%s %s: %s", r.Disease, r.Group, r.Source)
		assert.Contains(t, ranges.Tiers(), r.Evidence)
		seen[string(r.Evidence)] = true
	}
	assert.True(t, seen[string(ranges.Published)] && seen[string(ranges.PracticePage)] && seen[string(ranges.FromMemory)], seen)
}
