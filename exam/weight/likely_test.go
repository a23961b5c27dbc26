package weight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

// A weight that a healthy animal of a class is drawn with is never asked about, and no age or kind has an empty span.
func TestLikelyWeightsHoldWhatIsUsual(t *testing.T) {
	step, ok := steps.Table().ByID("weight.body")
	assert.True(t, ok)
	kinds := map[exam.AnimalKind][]ranges.Class{
		exam.AnimalHorse:     {ranges.FoalFirstHour, ranges.FoalFirstWeek, ranges.FoalFirstMonth, ranges.FoalToSixMonths, ranges.FoalAgeUnknown, ranges.Weanling, ranges.Yearling, ranges.TwoThree, ranges.AdultLight, ranges.MareInFoal},
		exam.AnimalPony:      {ranges.Pony, ranges.SmallMareInFoal},
		exam.AnimalMiniature: {ranges.Miniature},
		exam.AnimalDraft:     {ranges.Draft},
		exam.AnimalDonkey:    {ranges.DonkeyToSixMonths, ranges.DonkeyYoung, ranges.DonkeyAdult},
		exam.AnimalMule:      {ranges.MuleFoalFirstWeek, ranges.Mule},
	}
	for kind, classes := range kinds {
		for _, class := range classes {
			span, usual := weight.LikelyKg(weight.Animal{Kind: kind, Class: class}, 0), step.Shows.Span(class)
			assert.Less(t, span.Low, span.High, "%s %s", kind, class)
			assert.LessOrEqual(t, span.Low, usual.Low, "%s %s", kind, class)
			assert.GreaterOrEqual(t, span.High, usual.High, "%s %s", kind, class)
		}
	}
}

// A growing animal may have doubled its last weight; a grown one that did is asked about.
func TestTheLastWeightCountsForAGrownAnimal(t *testing.T) {
	yearling, horse := weight.Animal{Kind: exam.AnimalHorse, Class: ranges.Yearling}, weight.Animal{Kind: exam.AnimalHorse, Class: ranges.AdultLight}
	assert.True(t, weight.LikelyKg(yearling, 150).Contains(320))
	assert.False(t, weight.LikelyKg(horse, 300).Contains(660))
	assert.True(t, weight.LikelyKg(horse, 300).Contains(330))
}
