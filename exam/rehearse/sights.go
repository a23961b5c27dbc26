package rehearse

import (
	"maps"

	"loosebox/exam"
)

// sights are what the hand, eye or ear gets of every choice of every step, in words that are not the answer's. A test
// walks the table of steps and fails where a choice has none, where two are alike, or where one gives the answer away.
// The words describe what the choices of exam/steps mean; they add no fact.
func sights() map[exam.StepID]map[string]string {
	all := map[exam.StepID]map[string]string{}
	for _, part := range []map[exam.StepID]map[string]string{
		sightsGeneral(), sightsCondition(), sightsHeart(), sightsGums(), sightsChest(), sightsSkin(),
		sightsEye(), sightsHead(), sightsMouth(), sightsLimbs(), sightsFeet(), sightsRear(), sightsUdder(), sightsPain(), sightsOfEvents(),
	} {
		maps.Copy(all, part)
	}
	return all
}

// cannotBe are choices that describe the examiner and not the horse: no truth of a simulated horse.
func cannotBe(step exam.StepID, key string) bool {
	return key == "unsure" && (step == "heart.rhythm" || step == "lung.sounds")
}
