package examtest_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/examtest"
	"loosebox/exam/steps"
)

// What is drawn for tests has every pinned step once, as the program has it, in its order.
func TestPinnedStepsAreTheProgramsOwn(t *testing.T) {
	all, at := steps.Table(), -1
	for _, s := range examtest.Steps().All() {
		own, ok := all.ByID(s.ID)
		assert.True(t, ok, s.ID)
		assert.Equal(t, own.Name, s.Name)
		for i, o := range all.All() {
			if o.ID == s.ID {
				assert.Greater(t, i, at)
				at = i
			}
		}
	}
	assert.Len(t, examtest.Steps().All(), 48)
	assert.Len(t, examtest.Routines(), len(steps.Routines()))
	full, _ := steps.Find(examtest.Routines(), steps.Default)
	assert.NotEmpty(t, full.Asks)
}
