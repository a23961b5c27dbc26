package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Colours and what each leans on: BOWDEN (abnormal colour), AERA, LAT36, NEWC2, TH-MM.
func gumColour() exam.Step {
	return exam.Step{
		ID: "gum.colour", Name: "Gum color", Short: "gum color",
		System: exam.SystemHeart, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("pink", "pink", "salmon to rose"),
			note("palepink", "pale pink", "",
				"Pale pink is usual in many horses; compare with its earlier visits.", published("MUNROEC")),
			recheck("pale", "pale", "",
				"Pale gums are on a practice's list of colic signs to call for.", practice("NEWC2")),
			tell("white", "white", "", "White gums are told at once.", practice("TH-MM")),
			recheck("bright", "bright red", "",
				"Reddened gums lower the score at an endurance ride's vet gate.", published("AERA")),
			tell("brick", "dark or brick red", "", "Dark red gums are a reason to call.", practice("LAT36")),
			tell("purple", "purple, blue, gray or muddy", "",
				"Blue, purple or muddy gums put a horse out of an endurance ride.", published("AERA")),
			tell("toxicline", "dark rim along the teeth", "",
				"A red to purple rim above the teeth puts a horse out of an endurance ride.", published("AERA")),
			recheck("yellow", "yellow", "a light tint is also seen off feed",
				"Yellow gums are on a practice's list of reasons to call; look again in daylight.", practice("LAT36")),
			tell("brown", "brown or yellow-brown", "", "Brown gums are a reason to call.", practice("LAT36")),
			tell("spots", "red pin-point spots", "", "Pin-point bleeding is told at once.", common("TRADE")),
			note("pigmented", "pigmented, cannot be judged", "",
				"Judge the inner eyelid, nostril or vulva instead and add a comment.", practice("TH-MM")),
		},
		Usual: []string{"pink"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"pink":      "The shade of fresh salmon.",
				"palepink":  "A washed-out rose, lighter than fresh salmon.",
				"pale":      "Whitish, with a trace of rose: the inside of a shell.",
				"white":     "No color at all: like the tooth beside it.",
				"bright":    "Like a ripe tomato.",
				"brick":     "Like an old roof tile.",
				"purple":    "Like a plum, or wet slate.",
				"toxicline": "Salmon higher up, and a wine-coloured line where each tooth begins.",
				"yellow":    "The tint of butter.",
				"brown":     "The tint of strong tea.",
				"spots":     "Salmon, sprinkled as with a fine pen; the specks stay when you press.",
				"pigmented": "Black like the lips; nothing shows through.",
			},
		},
		How: []string{
			"Lift the lip from the side, look above the corner teeth in good light.",
			"Pigmented gums: inner eyelid, inside of the nostril, vulva or sheath.",
		},
		Caution: "Stand beside the head; thumb on the gum, fingers clear of the teeth.",
	}
}

func gumMoisture() exam.Step {
	return exam.Step{
		ID: "gum.moisture", Name: "Gum moisture", Short: "gum moisture", Plain: "Gums, how moist",
		System: exam.SystemHeart, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("moist", "moist, finger slides", ""),
			note("tacky", "tacky, finger drags", "",
				"Tacky gums lower the score at an endurance ride's vet gate.", published("AERA")),
			recheck("dry", "dry, finger sticks", "",
				"Dry gums lower the score at an endurance ride's vet gate.", published("AERA")),
		},
		Usual: []string{"moist"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"moist": "Your fingertip glides as over a wet plate.",
				"tacky": "Your fingertip is held back a little, like on a stamp just licked.",
				"dry":   "Your fingertip stays where it is until you pull it off.",
			},
		},
		How: []string{
			"Lay a finger on the gum above the corner teeth and draw it sideways.",
			"Did it drink, or have a bit in its mouth just now? Then wait a little.",
		},
		Caution: "Stand beside the head; keep fingers out from between the teeth.",
	}
}

func gumRefill() exam.Step {
	return exam.Step{
		ID: "gum.refill", Name: "Gum refill time (CRT)", Short: "gum refill", Plain: "Gums pink again after a press",
		System: exam.SystemHeart, Kind: exam.KindTime,
		Unit: notation.Seconds, Units: []notation.Unit{notation.Seconds}, Decimals: 1,
		Possible: exam.Span{Low: 0.1, High: 30}, Likely: exam.Span{Low: 0.4, High: 8},
		Sense: exam.ByEye,
		Shows: exam.Shows{While: "Your thumb is on the gum.", Begin: "a light print where the thumb was", End: "the print is gone", Span: adultSeconds},
		How: []string{
			"Press the gum above a corner tooth until it blanches, then let go.",
			"First press as the thumb lifts, second as the color is back. Do three.",
		},
		Presses: "when you release the gum, again when it is pink",
		Caution: "Stand beside the head; keep fingers out from between the teeth.",
		Range:   ranges.GumRefill,
	}
}
