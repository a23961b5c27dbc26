package score_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/steps"
)

func grown(found ...exam.Finding) exam.Visit {
	return exam.Visit{Horse: exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{Precision: exam.BornAdult}}, Findings: found}
}

func measured(step exam.StepID, v float64, u notation.Unit) exam.Finding {
	return exam.Finding{Step: step, Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: u}}}
}

func picked(step exam.StepID, key string) exam.Finding {
	return exam.Finding{Step: step, Value: exam.Value{Kind: exam.KindPick, Words: []string{key}}}
}

func scoreOf(t *testing.T, v exam.Visit, id string) score.Score {
	t.Helper()
	for _, s := range score.Summary(v, nil) {
		if s.ID == id {
			return s
		}
	}
	require.Failf(t, "no score", "%s", id)
	return score.Score{}
}

// What was looked at is never called not looked at, though a score has no figure
// for the answer: walked over every choice of every step that an item waits for.
func TestWhatWasLookedAtIsNotCalledNotLookedAt(t *testing.T) {
	for _, id := range []exam.StepID{"demeanour", "gum.colour", "gum.moisture", "jugular.fill", "eye.look"} {
		step, ok := steps.Table().ByID(id)
		require.True(t, ok)
		for _, c := range step.Choices {
			f := picked(id, c.Key)
			if len(step.Sites) > 0 {
				f.Site = step.Sites[0]
			}
			v := grown(measured("heart.rate", 40, notation.PerMinute), measured("temp.rectal", 37.8, notation.Celsius), measured("gum.refill", 1.5, notation.Seconds), f)
			item := map[exam.StepID]string{"demeanour": "general state", "gum.colour": "membranes", "gum.moisture": "gum moisture", "jugular.fill": "jugular filling", "eye.look": "eyes"}[id]
			for _, s := range score.Summary(v, nil) {
				for _, missing := range s.Missing() {
					if strings.HasPrefix(missing, item) || id == "gum.colour" && strings.HasPrefix(missing, "gum color") {
						assert.NotRegexp(t, `: not `, missing, "%s %s", id, c.Key)
						assert.Contains(t, missing, c.Key)
					}
				}
			}
		}
	}
	bound := measured("gum.refill", 3, notation.Seconds)
	bound.Value.Bound = exam.AtLeast
	s := scoreOf(t, grown(bound, picked("gum.moisture", "dry")), "fluid_loss")
	assert.Contains(t, strings.Join(s.Missing(), "; "), "gum refill 3 s or more: looked at")
}

// A count or a sum is a number only once it can be used as it was published.
func TestNoNumberBeforeEnoughIsKnown(t *testing.T) {
	two := grown(measured("heart.rate", 40, notation.PerMinute), measured("temp.rectal", 37.8, notation.Celsius))
	s := scoreOf(t, two, "sirs_items")
	assert.Equal(t, "1 of 3 items not answered; no count yet", s.Words)
	assert.Nil(t, s.Value)
	// Roy et al., J Vet Intern Med 2017;31:582-592: two or more of four.
	fast := grown(measured("heart.rate", 64, notation.PerMinute), measured("temp.rectal", 39.4, notation.Celsius))
	s = scoreOf(t, fast, "sirs_items")
	assert.Equal(t, "2 of 2 outside range", s.Words, "two are enough, whatever breathing is")
	require.NotNil(t, s.Value)

	three := grown(append(two.Findings, measured("breath.rate", 12, notation.PerMinute))...)
	assert.Equal(t, "0 of 3 outside range", scoreOf(t, three, "sirs_items").Words)
	s = scoreOf(t, three, "seven_item_bands")
	assert.Equal(t, "4 of 7 items not answered; no score yet", s.Words)
	assert.Nil(t, s.Value)
	assert.Nil(t, s.High, "no ends either")
	// Mediators Inflamm 2021, 9501478, table 1: 10 and more is the last group.
	worst := grown(measured("heart.rate", 90, notation.PerMinute), measured("temp.rectal", 39.8, notation.Celsius), measured("breath.rate", 50, notation.PerMinute), picked("demeanour", "unresponsive"))
	s = scoreOf(t, worst, "seven_item_bands")
	assert.Equal(t, "12 to 19 of 19: the missing items do not change its group (10 and more)", s.Words)

	face := exam.Finding{Step: "pain.grimace", Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 2, Unit: notation.Points}, Parts: map[string]float64{"ears": 1, "lids": 1}}}
	s = scoreOf(t, grown(face), "grimace")
	assert.Equal(t, "4 of 6 items not answered; no score yet", s.Words)
	assert.Nil(t, s.Low)
}
