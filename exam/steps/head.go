package steps

import "loosebox/exam"

func head() []exam.Step {
	return []exam.Step{eyeLook(), noseDischarge(), cough(), nodeJaw(), mouthLook()}
}

func eyeLook() exam.Step {
	const why = "Any painful, closed, cloudy or injured eye is seen the same day."
	return exam.Step{
		ID: "eye.look", Name: "Eye", Short: "eyes",
		System: exam.SystemHead, Kind: exam.KindMarks, Sites: sides(),
		Choices: []exam.Choice{
			usual("clear", "open, clear, dry", ""),
			note("tears", "tears", "", "Tears are noted; look again for a narrowed lid.", memory()),
			recheck("discharge", "mucus or pus", "", "Discharge goes to the hand-off.", practice("ATL")),
			recheck("red", "red or swollen lids", "", "Redness or swelling goes to the hand-off.", practice("ATL")),
			tell("squint", "squints, lashes point down", "", why, published("PURDUE")),
			tell("cloudy", "cloudy, blue or white", "", why, published("PURDUE")),
			tell("injury", "injured, or something in it", "", why, published("PURDUE")),
			tell("pain", "painful, will not have it opened", "", why, published("PURDUE")),
			tell("pupil", "pupils unequal or do not shrink", "", "Unequal, wide or fixed pupils are told at once.", memory()),
			recheck("thirdlid", "third lid stands out", "", "A third lid across the eye goes to the hand-off.", memory()),
			recheck("sunken", "sunken", "", "Sunken eyes go to the hand-off.", memory()),
		},
		Usual: []string{"clear"}, Alone: []string{"clear"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
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
		},
		How: []string{
			"From the front a step away: both equally open, lashes at one angle?",
			"Then a light from the side: clear front; lumps on the rim are usual.",
		},
		Caution: "It cannot see your hand under its forehead: speak, come from the side.",
	}
}

func noseDischarge() exam.Step {
	return exam.Step{
		ID: "nose.discharge", Name: "Nostril", Short: "nostrils",
		System: exam.SystemHead, Kind: exam.KindPick, Sites: sides(),
		Choices: []exam.Choice{
			usual("none", "dry, or a slight clear drip", ""),
			note("clear", "clear and running", "", "More than a drip of clear fluid is noted.", common("TRADE")),
			recheck("mucus", "white or cloudy mucus", "", "Gloves on; with fever or cough keep it apart from others.", common("TRADE")),
			recheck("pus", "yellow, thick or foul", "", "Gloves on; with fever or cough keep it apart from others.", common("TRADE")),
			recheck("streaks", "streaks of blood", "", "Blood-stained discharge goes to the hand-off.", memory()),
			tell("blood", "runs with blood", "", "Blood at the nose is on a list of reasons to call at once.", practice("EQMED")),
			tell("foam", "foam", "", "Foam at the nose is on a list of reasons to call at once.", practice("EQMED")),
			tell("feed", "feed, saliva or milk", "", "Feed or saliva at the nose is on a practice's list of emergencies.", practice("CAV")),
		},
		Usual: []string{"none"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"none":    "Cool air on the back of your hand; the rim is clean, perhaps one bead like water.",
				"clear":   "Like water, and it keeps coming down to the lip.",
				"mucus":   "Strings like egg-white, no longer to be seen through.",
				"pus":     "Like custard, with a smell that makes you turn your head.",
				"streaks": "Slime with pinkish threads.",
				"blood":   "A red stream that drips to the straw without stopping.",
				"foam":    "Fine froth like beaten egg stands in it.",
				"feed":    "Green, with bits of chewed grass in it, or white like from the teat.",
			},
		},
		How: []string{
			"Look into the nostril; feel the air against the back of your hand.",
			"One side or both, and how much, says as much as the color.",
		},
		Caution: "Stand to the side: it may snort or throw its head. Gloves if it runs.",
	}
}

func cough() exam.Step {
	return exam.Step{
		ID: "cough", Name: "Cough", Short: "cough",
		System: exam.SystemHead, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("none", "none heard or told of", ""),
			note("single", "once, at dust or feed", "", "A single cough is noted.", memory()),
			recheck("some", "now and then", "", "Coughing goes to the hand-off; with fever keep it apart from others.", common("TRADE")),
			recheck("fits", "often, or in fits", "", "Coughing goes to the hand-off; with fever keep it apart from others.", common("TRADE")),
			tell("choking", "with feed or saliva coming back", "", "Feed or saliva coming back is on a practice's list of emergencies.", practice("CAV")),
		},
		Usual:       []string{"none"},
		FromOutside: true, Sense: exam.ByEar,
		Shows: exam.Shows{
			Choices: map[string]string{
				"none":    "The groom shakes her head; nor have you heard any since you came.",
				"single":  "One bark as it put its nose into the hay. The groom: \"Just then, never else.\"",
				"some":    "Two barks while you stood there. The groom: \"A few times each day this week.\"",
				"fits":    "It barks eight times on end, neck stretched. The groom: \"All night.\"",
				"choking": "It barks, stretches its neck, and green slime runs from both nostrils.",
			},
		},
		How: []string{
			"What you heard since you came, and what the groom heard this week.",
			"When: at rest, at feed, at work, at night. Do not squeeze the throat.",
		},
	}
}

func nodeJaw() exam.Step {
	return exam.Step{
		ID: "node.jaw", Name: "Nodes under jaw and throat", Short: "jaw nodes", Plain: "Glands under jaw and throat",
		System: exam.SystemHead, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("small", "small, loose, not sore", ""),
			recheck("large", "enlarged", "", "With fever: keep it apart and stop movement on and off the yard.", published("HBLB101")),
			recheck("sore", "enlarged, hot or sore", "", "With fever: keep it apart and stop movement on and off the yard.", published("HBLB101")),
			tell("burst", "burst or running", "", "Gloves, keep it apart, nobody moves on or off: tell the veterinarian.", published("HBLB101")),
			tell("throat", "throat swollen, or noise as it breathes", "",
				"A swollen throat with noise is told at once; keep it apart.", published("VCH653")),
		},
		Usual: []string{"small"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"small":  "Between the jaw bones a few beads, like lentils that slip from under your fingers.",
				"large":  "Between the jaw bones a walnut on each side; it lets you press.",
				"sore":   "A walnut on each side, warm; it throws its head up as you press.",
				"burst":  "Between the jaw bones a hole, and cream-coloured matter down the hair.",
				"throat": "Behind the jaw it is thick as an arm, and each breath in snores.",
			},
		},
		How: []string{
			"Feel between the jaw bones, then up to the throat behind the jaw.",
			"Small loose beads are usual; those behind the throat are not felt.",
		},
		Caution: "Stand beside the head; clean hands or new gloves for the next horse.",
	}
}

func mouthLook() exam.Step {
	const dental = "On a list of dental signs; goes to the hand-off."
	return exam.Step{
		ID: "mouth.look", Name: "Mouth and teeth", Short: "mouth",
		System: exam.SystemHead, Kind: exam.KindMarks,
		Choices: []exam.Choice{
			usual("good", "nothing found", ""),
			note("smell", "bad smell", "", dental, published("MSUDENT")),
			note("quids", "drops balls of chewed feed", "", dental, published("MSUDENT")),
			note("sharp", "sharp edges, hooks, food pockets", "", dental, practice("THORAL")),
			recheck("loose", "loose or broken tooth", "", dental, practice("THORAL")),
			recheck("sores", "sores, cuts or blisters", "", "Gloves on; sores and blisters go to the hand-off.", practice("THORAL")),
			recheck("drool", "drools", "", "Drooling goes to the hand-off; keep hands out of the mouth.", published("MSUDENT")),
			tell("swallow", "cannot swallow, or tongue hangs out", "",
				"Hands out of the mouth, list who touched it: tell the veterinarian.", memory()),
			tell("blood", "bleeds heavily, or jaw out of line", "", "Heavy bleeding or a jaw out of line is told at once.", memory()),
			tell("palate", "gap in the palate, or milk from the nose", "foal",
				"Milk at a foal's nostrils is on a list of reasons to call.", practice("SCONE")),
		},
		Usual: []string{"good"}, Alone: []string{"good"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
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
			Young: map[string]string{
				"good": "Lips, tongue, palate: clean and whole; it sucks at your finger.",
			},
		},
		How: []string{
			"Part the lips from the side: front teeth, gums, bars, smell.",
			"No gag, no tongue pulling. Watch it take a mouthful of hay.",
		},
		Caution: "Fingers never between the teeth; stand beside, not before the head.",
	}
}
