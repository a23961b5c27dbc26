package steps

import "loosebox/exam"

const onYourFeet = "On your feet: never crouch, kneel or sit; head out of kicking range."

func limbs() []exam.Step {
	return []exam.Step{gaitLook(), limbLook(), limbWarmth(), hoofHeat(), limbDigitalPulse()}
}

// A technician says what is seen at the walk; the lameness grade is the vet's.
func gaitLook() exam.Step {
	return exam.Step{
		ID: "gait.look", Name: "A few steps at walk", Short: "walk",
		System: exam.SystemLimbs, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("even", "straight and even", ""),
			recheck("stiff", "short or stilted steps", "", "A short stilted walk is a grade of a laminitis scale; do not go on walking it.", published("OBEL")),
			recheck("lame", "lame at walk", "", "Lameness plain at the walk is the second highest of five grades.", published("AAEPL")),
			tell("sways", "sways, stumbles or drags a toe", "",
				"Staggering is told at once: do not tie, load or turn it tightly; with fever keep it apart.", practice("DUM")),
			tell("refuses", "will not or cannot move", "", "A horse that will not move is told at once.", practice("EQMED")),
		},
		Usual: []string{"even"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"even":    "Four equal beats on the concrete, head level, each toe set down in line.",
				"stiff":   "It patters: each stride half of what you expect, on all turns.",
				"lame":    "Its head nods down with every second stride on the way to the trough.",
				"sways":   "The hind end wanders left and right; a toe scrapes, the fetlock knuckles.",
				"refuses": "The rope tightens, it groans, and not one foot leaves the ground.",
			},
		},
		How: []string{
			"As it moves about the box, or is led a few steps on a loose rope.",
			"Never make a horse walk that does not offer to. No trot in this exam.",
		},
		Caution: "If it sways, get out from between it and the wall.",
	}
}

func limbLook() exam.Step {
	return exam.Step{
		ID: "limb.look", Name: "Limb", Short: "limbs",
		System: exam.SystemLimbs, Kind: exam.KindMarks, Sites: feet(), OneForAll: true,
		Choices: []exam.Choice{
			usual("clean", "clean lines, nothing found", ""),
			note("filled", "filled, cool, even", "", "Cool even filling of several legs that goes with work is common.", common("TRADE")),
			note("graze", "fresh graze or shallow cut", "", "Fresh shallow cuts lower the score of an endurance leg check.", published("AERAP")),
			recheck("swollen", "swollen, hot or sore", "", "One hot sore leg with fever or lameness is for the veterinarian.", practice("MCG")),
			recheck("joint", "swollen joint or sheath", "",
				"A swollen joint goes to the hand-off; hot or with lameness, and in a foal, it is told.", common("MCG")),
			recheck("wound", "open wound", "", "An open cut lowers the score of an endurance leg check; noted with place, size and depth.", published("AERAP")),
			tell("jointwound", "wound at a joint, tendon or sheath", "even a small puncture", "Told at once, however small it looks.", practice("MCG")),
			tell("notbearing", "bears no weight", "", "A leg that bears no weight is told at once.", practice("EQMED")),
			tell("unstable", "bends where it should not", "", "Do not move the horse: tell the veterinarian at once.", memory()),
		},
		Usual: []string{"clean"}, Alone: []string{"clean"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
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
		},
		How: []string{
			"Look first, then run a hand from knee or hock down to the hoof.",
			"Swelling, heat, pain, wounds; does a dent stay? Compare with the other.",
		},
		Caution: onYourFeet,
	}
}

func limbWarmth() exam.Step {
	return exam.Step{
		ID: "limb.warmth", Name: "Limb warmth", Short: "limb warmth",
		System: exam.SystemLimbs, Kind: exam.KindPick, Sites: feet(), OneForAll: true,
		Choices: []exam.Choice{
			usual("even", "as the others, not cold", ""),
			note("warm", "warmer than expected", "", "Compare with the other legs; sun, bandages and work also warm a leg.", memory()),
			note("cool", "cool", "", "Cool legs are noted with how far up; the air may be the reason.", published("SAEVA")),
			recheck("cold", "cold", "comment: how far up",
				"Cold ears and legs are useful signs (a congress text), most of all in newborns.", published("SAEVA")),
		},
		Usual: []string{"even"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"even": "Down to the hoof it feels no different from its three fellows.",
				"warm": "From mid-cannon down the back of your hand feels more heat than on its fellows.",
				"cool": "Below the fetlock it feels like a stone in the shade.",
				"cold": "From the knee or hock down it feels like iron in winter.",
			},
		},
		How: []string{
			"Back of the hand from mid-cannon up: where does cold begin?",
			"Feel ears and nose too. Add a comment on a cold day.",
		},
		Caution: onYourFeet,
	}
}

func hoofHeat() exam.Step {
	return exam.Step{
		ID: "hoof.heat", Name: "Hoof heat", Short: "hoof heat",
		System: exam.SystemLimbs, Kind: exam.KindPick, Sites: feet(), OneForAll: true,
		Choices: []exam.Choice{
			usual("even", "as the others", ""),
			note("warm", "warmer than the others", "", "All four are about equal at one moment; feel again in an hour.", practice("HEAT")),
			recheck("hot", "hot, or both fores warm for hours", "", "A hot hoof is on a practice's list of reasons to call.", practice("SMTN")),
			note("cold", "colder than the others", "", "All four are about equal at one moment; feel again in an hour.", practice("HEAT")),
		},
		Usual: []string{"even"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"even": "Wall, coronet, heels: no difference from foot to foot.",
				"warm": "Your hand goes back to this one: a little more heat than in the rest.",
				"hot":  "You take your hand away and lay it back: like a mug of tea.",
				"cold": "Like a stone, while the rest are not.",
			},
		},
		How: []string{
			"Back of the hand on wall, coronet and heel bulbs, then the next foot.",
			"No single warmth is usual: compare all four, away from sun and bandage.",
		},
		Caution: onYourFeet,
	}
}

// The grades 0 to 4 are a habit of clinics with no published standard found:
// from memory, so the word stands beside the number.
func limbDigitalPulse() exam.Step {
	return exam.Step{
		ID: "limb.digitalpulse", Name: "Digital pulse, 0 to 4", Short: "digital pulse", Plain: "Pulse at the foot",
		System: exam.SystemLimbs, Kind: exam.KindScale, Sites: feet(), OneForAll: true,
		Choices: scored(0,
			usual("none", "not felt", ""),
			usual("faint", "faint", "what is usual"),
			note("easy", "easily felt", "", "Somewhat stronger than faint; compare all four.", memory()),
			recheck("strong", "clearly increased", "", "Stronger than faint, which is usual; compare all four feet.", practice("VPRAC")),
			tell("bounding", "bounding", "", "A bounding digital pulse is told at once; do not make it walk.", practice("VPRAC")),
		),
		Usual: []string{"faint"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"none":     "You search the back edge of the fetlock for half a minute and find no beat.",
				"faint":    "You have to search; then a beat like a thread under your fingertips.",
				"easy":     "There at the first touch, lightly.",
				"strong":   "There at the first touch, and it pushes your fingertips away.",
				"bounding": "You see it before you touch it; it hammers.",
			},
		},
		How: []string{
			"Two fingers on the outer and inner back edge of the fetlock, lightly.",
			"Judge strength, not rate; compare all four feet.",
		},
		Caution: onYourFeet,
	}
}
