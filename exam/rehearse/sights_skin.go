package rehearse

import "loosebox/exam"

func sightsSkin() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"skin.look": {
			"smooth":       "Your flat hand slides from poll to tail over a gleaming surface and stops nowhere.",
			"hairloss":     "A bald round as large as a coin behind the girth.",
			"scale":        "White flakes fly up wherever you rub against the lie.",
			"crusts":       "Little hard plates along the back; a tuft comes away with each.",
			"lump":         "A firm pea under the skin of the shoulder that moves beneath your finger.",
			"itch":         "The root of the tail is worn to bristles, and it leans into your hand.",
			"lice":         "Under the mane something walks; tiny pale grains cling to the base of the mane.",
			"longcoat":     "It is summer, and it wears a fleece like a bear.",
			"sweat":        "Behind the elbow and on the neck, islands that are wet and chill to the hand.",
			"hives":        "Soft flat-topped bumps, coin-sized, have come up all over the neck and ribs.",
			"faceswelling": "Lips and nose are puffed out until the nostrils are slits.",
			"wound":        "On the forearm the skin gapes a finger's length; it has bled and dried.",
			"deepwound":    "A hole over the hock that your probe would vanish into; straw-coloured drops run from it.",
			"maggots":      "Something white moves in the raw patch on the rump.",
		},
	}
}

func sightsEye() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"eye.look": {
			"clear":     "Wide, like a polished dark stone; the light shines far in; the cheek below has no track.",
			"tears":     "A wet track runs down the cheek from the inner corner.",
			"discharge": "A yellow string lies in the inner corner.",
			"red":       "The rims are puffed and the lining is like raw beef.",
			"squint":    "It is held half shut, the upper fringe at a steep slant.",
			"cloudy":    "A haze like breath on a window lies over the front.",
			"injury":    "A husk of oat sticks to the front of it.",
			"pain":      "It clamps the lids and swings its head away before your thumb is there.",
			"pupil":     "You bring the lamp close: the dark slit stays as wide as it was; the other side narrows.",
			"thirdlid":  "A skin from the inner corner is drawn a third of the way across.",
			"sunken":    "It lies deep in its hollow, with a gap under the lids.",
		},
	}
}

func sightsHead() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"nose.discharge": {
			"none":    "Cool air on the back of your hand; the rim is clean, perhaps one bead like water.",
			"clear":   "Like water, and it keeps coming down to the lip.",
			"mucus":   "Strings like egg-white, no longer to be seen through.",
			"pus":     "Like custard, with a smell that makes you turn your head.",
			"streaks": "Slime with pinkish threads.",
			"blood":   "A red stream that drips to the straw without stopping.",
			"foam":    "Fine froth like beaten egg stands in it.",
			"feed":    "Green, with bits of chewed grass in it, or white like from the teat.",
		},
		"cough": {
			"none":    "The groom shakes her head; nor have you heard any since you came.",
			"single":  "One bark as it put its nose into the hay. The groom: \"Just then, never else.\"",
			"some":    "Two barks while you stood there. The groom: \"A few times each day this week.\"",
			"fits":    "It barks eight times on end, neck stretched. The groom: \"All night.\"",
			"choking": "It barks, stretches its neck, and green slime runs from both nostrils.",
		},
		"node.jaw": {
			"small":  "Between the jaw bones a few beads, like lentils that slip from under your fingers.",
			"large":  "Between the jaw bones a walnut on each side; it lets you press.",
			"sore":   "A walnut on each side, warm; it throws its head up as you press.",
			"burst":  "Between the jaw bones a hole, and cream-coloured matter down the hair.",
			"throat": "Behind the jaw it is thick as an arm, and each breath in snores.",
		},
	}
}

func sightsMouth() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"mouth.look": {
			"good":    "Lips, front teeth, bars: clean, whole, in line; it takes your hay and chews evenly.",
			"smell":   "You part the lips and step back: something rots in there.",
			"quids":   "It turns the hay over twice and lets a wet wad fall.",
			"sharp":   "Through the cheek your thumb feels points like a saw along the upper row.",
			"loose":   "A corner incisor rocks under your finger; its edge is chipped.",
			"sores":   "Raw rounds on the bars and inside the lip.",
			"drool":   "A rope of spit hangs from the lip and does not stop.",
			"swallow": "Water runs back out as it drinks; a pink tip stays outside the lips.",
			"blood":   "Red pours over the lip, and upper and lower front teeth no longer meet.",
			"palate":  "It sucks, and white drops run from both nostrils.",
		},
	}
}
