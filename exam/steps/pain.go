package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func pain() []exam.Step {
	return []exam.Step{painSigns(), painGrimace()}
}

// What is told at once stands first, where it has a digit and is in sight. What each sign weighs leans on published lists of reasons to call (REACT,
// PURDUE), not on a scored scale.
func painSigns() exam.Step {
	const react = "Restlessness, eating less and belly pain are on a published list of early signs of colic."
	const colic = "Colic, lying down or rolling is on a university's list of emergencies."
	return exam.Step{
		ID: "pain.signs", Name: "Signs of pain", Short: "pain signs",
		System: exam.SystemPain, Kind: exam.KindMarks,
		Choices: []exam.Choice{
			usual("none", "none seen", ""),
			tell("rolls", "rolls, or throws itself down", "", colic, published("PURDUE")),
			tell("severe", "severe, comes and goes", "", colic, published("PURDUE")),
			tell("constant", "does not stop", "", colic, published("PURDUE")),
			tell("kicks", "kicks at its belly", "", colic, published("PURDUE")),
			tell("sweats", "sweats at rest", "", "Cold patchy sweat is on a practice's list of reasons to call.", practice("LAT36")),
			recheck("flank", "looks at its flank", "", react, published("REACT")),
			recheck("paws", "paws", "", react, published("REACT")),
			recheck("updown", "lies down and gets up again", "", react, published("REACT")),
			recheck("offfeed", "leaves feed, eats less", "a donkey off feed: call", react, published("REACT")),
			recheck("stretches", "stretches out", "", react, published("REACT")),
			recheck("teeth", "grinds teeth or groans", "", "Goes to the hand-off.", memory()),
			recheck("mild", "mild, comes and goes", "", react, published("REACT")),
			note("lip", "curls its lip, yawns again and again", "", "Seen with pain and without; noted.", memory()),
		},
		Usual: []string{"none"}, Alone: []string{"none"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"none":      "It dozes, pulls at its net, dozes. Five minutes, nothing else.",
				"offfeed":   "Last night's hay hangs untouched; it noses the bucket and turns away.",
				"flank":     "Every minute or so the head swings round to its own side.",
				"paws":      "A forefoot digs and digs; there is a hole in the bed.",
				"stretches": "It sets its forefeet far ahead and sinks its back, again and again.",
				"lip":       "The upper one goes up, teeth bare, the jaws gape; then again.",
				"teeth":     "You hear stone on stone from its mouth, and a low moan.",
				"sweats":    "Wet behind the elbows, though it has stood in the cool since morning.",
				"kicks":     "A hind foot comes up hard against its own underside.",
				"updown":    "Down in the straw, a minute, to its feet; down once more.",
				"rolls":     "Its knees buckle, it crashes down and is on its back, legs thrashing.",
				"mild":      "For some minutes uneasy, then for a while as if nothing were; so it has gone since noon.",
				"severe":    "For some minutes frantic, then for a while spent; so it has gone since noon.",
				"constant":  "Not one minute in five without it.",
			},
			Young: map[string]string{
				"none":    "It sleeps, gets up, drinks, sleeps. Five minutes, nothing else.",
				"offfeed": "It noses the udder and turns away; the mare's bag is tight, and milk dries on its face.",
			},
		},
		How: []string{
			"Watch five minutes from outside; ask what was seen since the last feed.",
			"Donkeys and draft horses show little: small signs count for more.",
			"Sudden ease after bad pain is no relief where the other figures worsen.",
		},
		Caution: "Do not go in to a horse that rolls or throws itself about.",
	}
}

// Six signs of the face, 0 to 2 each: facts of HGS. No limit for acting was
// read, so the total stands without a level.
func painGrimace() exam.Step {
	return exam.Step{
		ID: "pain.grimace", Name: "Grimace total, 0 to 12", Short: "grimace 0-12", Plain: "Signs of pain in the face",
		System: exam.SystemPain, Kind: exam.KindNumber,
		Unit: notation.Points, Units: []notation.Unit{notation.Points},
		Possible: exam.Span{Low: 0, High: 12}, Likely: exam.Span{Low: 0, High: 12},
		Parts:       GrimaceParts(),
		FromOutside: true, Sense: exam.ByEye,
		Shows: exam.Shows{
			Parts: map[string][]string{
				"ears":     {"Ears swing to each sound.", "The ears stand a little back, their tips apart.", "Both ears are held stiffly back, the tips far apart."},
				"lids":     {"The eye is round.", "The upper lid hangs a little low.", "The eye is a slit."},
				"brow":     {"Over it the skin is smooth.", "Over it an edge of bone begins to show.", "Over it the bone is sharp, the skin in folds."},
				"jaw":      {"The cheek is loose.", "The cheek is firm, its edge just seen.", "The cheek is one hard ridge."},
				"mouth":    {"Lips and chin hang soft.", "The upper lip is tucked in a little.", "The upper lip is pulled back, the chin a knot."},
				"nostrils": {"The nose is soft at the rim.", "The rim of the nose looks a little stiff.", "The rim of the nose is wide and stiff, its line straight."},
			},
			Span: func(ranges.Class) exam.Span { return exam.Span{} }, // a healthy face scores 0
		},
		How: []string{
			"Six signs of the face, each 0 absent, 1 moderate, 2 obvious.",
			"From outside, horse awake and undisturbed; look at both sides.",
			"Leave out a sign that you cannot see; the sum is then at least that.",
		},
	}
}

// grimaceSigns lists the six signs of the face; each scores 0 absent, 1
// moderate, 2 obvious.
func grimaceSigns() []exam.Part {
	return []exam.Part{
		{Key: "ears", Words: "ears stiffly backwards", Hint: "held stiffly, turned back, the tips further apart; not pinned flat"},
		{Key: "lids", Words: "lids tightened", Hint: "the eye partly closed; more than half closed is 2"},
		{Key: "brow", Words: "tension above the eye", Hint: "the place above the eye is drawn tight"},
		{Key: "jaw", Words: "chewing muscles stand out", Hint: "strained, they stand out on the cheek"},
		{Key: "mouth", Words: "mouth drawn, chin hard", Hint: "mouth strained, the chin stands out"},
		{Key: "nostrils", Words: "nostrils drawn, profile flat", Hint: "nostrils strained, the profile flattened"},
	}
}

// GrimaceParts says how the face is scored by signs: each from 0 to 2, and their
// sum.
func GrimaceParts() exam.Parts {
	return exam.Parts{List: grimaceSigns(), Noun: "sign", Score: exam.Span{Low: 0, High: 2}, Says: "0 absent, 1 moderate, 2 obvious"}
}
