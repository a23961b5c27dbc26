package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func skin() []exam.Step {
	return []exam.Step{skinLook(), skinTent()}
}

func skinLook() exam.Step {
	return exam.Step{
		ID: "skin.look", Name: "Skin and coat", Short: "skin and coat",
		System: exam.SystemSkin, Kind: exam.KindMarks,
		Choices: []exam.Choice{
			usual("smooth", "smooth coat, nothing found", ""),
			note("hairloss", "hair loss", "", "Noted with its place; gloves on, it may be contagious.", common("TRADE")),
			note("scale", "scale or dandruff", "", "Noted with its place.", common("TRADE")),
			note("crusts", "crusts or scabs", "", "Noted with its place; gloves on, it may be contagious.", common("TRADE")),
			note("lump", "lump or growth", "", "Noted with place and size, to compare at the next visit.", common("TRADE")),
			note("itch", "itching or rubbed places", "", "Noted with its place.", common("TRADE")),
			note("lice", "lice, ticks or nits", "", "Noted with its place.", common("TRADE")),
			note("longcoat", "long or curly coat out of season", "", "Goes to the hand-off of an older horse.", common("TRADE")),
			recheck("sweat", "patchy or cold sweat", "", "Cold patchy sweat is on a practice's list of reasons to call.", practice("LAT36")),
			recheck("hives", "hives or raised wheals", "",
				"Watch hives. With facial swelling or changed breathing, tell the veterinarian at once.", memory()),
			tell("faceswelling", "swelling of face or muzzle", "",
				"A swollen face can close the airway: tell the veterinarian.", memory()),
			recheck("wound", "wound", "", "Noted with place, size and depth.", memory()),
			tell("deepwound", "deep wound, or near a joint or the eye", "",
				"A deep cut, or one by a joint, tendon or eye, is told at once.", published("PURDUE")),
			tell("maggots", "maggots, wide burn or bite", "", "Told at once.", memory()),
		},
		Usual: []string{"smooth"}, Alone: []string{"smooth"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
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
		},
		How: []string{
			"Flat palm over neck, chest, back, belly, quarters, against the hair too.",
			"Look under mane, girth and tail. Gloves for wounds, crusts, bald places.",
		},
		Caution: "Keep one hand on the horse and work outwards from the shoulder.",
	}
}

// Recorded, never weighed alone: in 50 working horses it followed neither water
// intake nor plasma osmolality (PRIT08).
func skinTent() exam.Step {
	return exam.Step{
		ID: "skin.tent", Name: "Skin tent time", Short: "skin tent", Plain: "Skin back flat after a pinch",
		System: exam.SystemSkin, Kind: exam.KindTime,
		Unit: notation.Seconds, Units: []notation.Unit{notation.Seconds}, Decimals: 1,
		Possible: exam.Span{Low: 0, High: 60}, Likely: exam.Span{Low: 0, High: 10},
		Sense: exam.ByEye,
		Shows: exam.Shows{While: "You hold a fold at the point of the shoulder.", Begin: "the fold stands", End: "the skin lies flat", Span: adultSeconds},
		How: []string{
			"Point of the shoulder, the same side at every visit, coat dry.",
			"Lift a fold, press as you release, press again when it is flat.",
			"It says little alone, and tents longer in old horses.",
		},
		Presses: "when you release the fold, again when it is flat",
		Caution: "Stand at the shoulder, not before the foreleg.",
		Range:   ranges.SkinTent,
	}
}
