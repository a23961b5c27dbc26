package rehearse

import (
	"loosebox/exam"
	"loosebox/exam/score"
)

// sightsYoung take the place of sights where a foal does something else than a grown horse.
func sightsYoung() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"demeanour": {
			"bright": "It jumps up as you come, hides behind the mare and peers out at you.",
			"dull":   "It lies flat beside the mare; you touch it, and some seconds later an eye opens.",
		},
		"pain.signs": {
			"none":    "It sleeps, gets up, drinks, sleeps. Five minutes, nothing else.",
			"offfeed": "It noses the udder and turns away; the mare's bag is tight, and milk dries on its face.",
		},
		"mouth.look": {"good": "Lips, tongue, palate: clean and whole; it sucks at your finger."},
		"manure": {
			"balls": "A few small yellow-brown lumps, soft enough to be flattened by a straw.",
			"none":  "A clean bed. The groom has sat here since last evening and saw none.",
		},
		"urine": {"yellow": "It stales as you come: a full stream, nearly like water."},
	}
}

// sightsOfEvents are the lines of the foaling card on the door.
func sightsOfEvents() map[exam.StepID]map[string]string {
	all := map[exam.StepID]map[string]string{}
	for _, m := range score.Milestones() {
		all[m.Step] = map[string]string{
			exam.EventSeen:   "Somebody has written a time beside it on the card at the door.",
			exam.EventNotYet: "Its line on the card is empty, and whoever sat up shakes her head.",
		}
	}
	return all
}

// layered is the sights of an animal of the given age.
func layered(young bool) map[exam.StepID]map[string]string {
	all := sights()
	if !young {
		return all
	}
	for id, own := range sightsYoung() {
		for key, text := range own {
			all[id][key] = text
		}
	}
	return all
}
