package rehearse

import "loosebox/exam"

func sightsLimbs() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"limb.look": {
			"clean":      "Tendons like taut cords, each joint sharply drawn; your hand stops nowhere.",
			"filled":     "Round from fetlock to mid-cannon like a stocking; no warmth, and the fellow is the same.",
			"graze":      "A scrape on the cannon, hair gone, still wet, not through the skin.",
			"swollen":    "Twice its fellow's girth, warm; it snatches the foot as you press.",
			"joint":      "A tense pouch bulges at the side of the fetlock.",
			"wound":      "The skin of the forearm gapes; muscle shows.",
			"jointwound": "A prick no larger than a nail's, right over the fetlock's pouch, with a sticky drop.",
			"notbearing": "It hangs; the toe brushes the straw and is snatched up.",
			"unstable":   "Below the knee it swings to the side as the horse hops.",
		},
		"limb.warmth": {
			"even": "Down to the hoof it feels no different from its three fellows.",
			"warm": "From mid-cannon down the back of your hand feels more heat than on its fellows.",
			"cool": "Below the fetlock it feels like a stone in the shade.",
			"cold": "From the knee or hock down it feels like iron in winter.",
		},
	}
}

func sightsFeet() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"hoof.heat": {
			"even": "Wall, coronet, heels: no difference from foot to foot.",
			"warm": "Your hand goes back to this one: a little more heat than in the rest.",
			"hot":  "You take your hand away and lay it back: like a mug of tea.",
			"cold": "Like a stone, while the rest are not.",
		},
		"limb.digitalpulse": {
			"none":     "You search the back edge of the fetlock for half a minute and find no beat.",
			"faint":    "You have to search; then a beat like a thread under your fingertips.",
			"easy":     "There at the first touch, lightly.",
			"strong":   "There at the first touch, and it pushes your fingertips away.",
			"bounding": "You see it before you touch it; it hammers.",
		},
	}
}
