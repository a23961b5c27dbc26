package score_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/score"
	"loosebox/exam/steps"
)

// Each score of the crest has its step of the scale.
func TestEveryCrestIsAChoice(t *testing.T) {
	s, ok := steps.Table().ByID("neck.crest")
	require.True(t, ok)
	for i, c := range score.Crests() {
		assert.Equal(t, float64(c.Score), s.Choices[i].Score)
	}
}

// at is the place of a step in a routine; -1 where it does not ask it.
func at(r exam.Routine, id exam.StepID) int {
	return slices.IndexFunc(r.Asks, func(a exam.Ask) bool { return a.Step == id })
}

// TestEveryMilestoneIsAsked: a step for each event of the newborn's clock, in the order in which they are due, on the
// first day of a horse foal only.
func TestEveryMilestoneIsAsked(t *testing.T) {
	var asked []exam.StepID
	for _, s := range steps.Table().All() {
		if s.Kind == exam.KindEvent {
			asked = append(asked, s.ID)
		}
	}
	var due []exam.StepID
	for _, m := range score.Milestones() {
		due = append(due, m.Step)
	}
	assert.Equal(t, due, asked)
	now := time.Date(2026, 4, 3, 12, 0, 0, 0, time.UTC)
	for hours, want := range map[int]bool{0: true, 3: true, 23: true, 25: false, 50: false, 400: false} {
		for kind, horse := range map[exam.AnimalKind]bool{exam.AnimalHorse: true, exam.AnimalPony: true, exam.AnimalDonkey: false, exam.AnimalMule: false} {
			class := exam.ClassOf(exam.Horse{Kind: kind, Birth: exam.Birth{At: now.Add(-time.Duration(hours) * time.Hour), Precision: exam.BornMinute}}, now)
			for _, name := range []string{"newborn-foal", "full-exam"} {
				r, _ := steps.Find(steps.Routines(), name)
				assert.Equal(t, want && horse, at(r.For(class, steps.Table()), "foal.stand") >= 0, "%s, %s of %d h", name, kind, hours)
			}
		}
	}
}
