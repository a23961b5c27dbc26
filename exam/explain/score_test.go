package explain_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
)

// Scores, milestones and the signs of fluid loss say what they rest on, with an answer and before it.
func TestScoresSayWhatTheyRestOn(t *testing.T) {
	for step, want := range map[exam.StepID]string{
		"pain.grimace": "PLoS ONE 2014;9:e92281", "condition.score": "Equine Vet J 1983;15:371-372", "neck.crest": "Giles et al.",
		"foal.nurse": "Lenz, AQHA 2016", "foal.stand": "usual by 1 h, recheck from 1 h, the veterinarian is told from 2 h",
		"gum.refill": "Skin tent never makes a band alone", "neck.girth": "University of Minnesota",
	} {
		assert.Contains(t, text(explain.Parts(asked(t, step, nil))), want, step)
	}
	stand, _ := theSteps().ByID("foal.stand")
	v := stand.SeenAt(noon().Add(-10 * time.Minute))
	a := asked(t, "foal.stand", &v)
	a.Visit.Horse.Birth = exam.Birth{At: noon().Add(-time.Hour), Precision: exam.BornMinute}
	assert.Contains(t, text(explain.Parts(a)), "50 min after the birth at 11:00")
	crest := exam.Value{Kind: exam.KindScale, Words: []string{"3"}, Number: &notation.Quantity{Value: 3, Unit: notation.Points}}
	assert.Contains(t, text(explain.Parts(asked(t, "neck.crest", &crest))), "3 thick, mounded mid-neck, fills the hand")
}
