package steps

import (
	"loosebox/exam"
	"loosebox/exam/score"
	"loosebox/ranges"
)

func general() []exam.Step {
	return []exam.Step{
		approach(), demeanour(), posture(), conditionScore(), neckCrest(), heightWithers(), neckGirth(), tempRectal(), weightBody(),
	}
}

// The handling rules are the trade's: approach at the shoulder, speaking;
// handler on the side of whoever works; behind, touching or far out of reach.
func approach() exam.Step {
	return exam.Step{
		ID: "approach", Name: "Approach and handler", Short: "approach",
		System: exam.SystemGeneral, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("held", "calm, held by a handler", ""),
			usual("tied", "calm, tied", "eye height, quick release, solid fixing"),
			usual("loose", "calm, loose in the box", ""),
			note("uneasy", "uneasy: swings, pins ears, will not stand", "",
				"An uneasy horse gets a handler, more time, and fewer people.", common("TRADE")),
			tell("unsafe", "not safe to go near", "",
				"Nobody goes in to a horse that is not safe; the veterinarian decides how to go on.", common("TRADE")),
		},
		How: []string{
			"Speak at the door. Ask whether it kicks, bites, strikes, fears needles.",
			"Walk up to the shoulder at an angle, not from straight ahead or behind.",
			"Settle who holds it: the handler stands on the side you work on.",
		},
		Caution: "Keep a way out. Never wrap the rope round your hand; fold it.",
	}
}

func demeanour() exam.Step {
	return exam.Step{
		ID: "demeanour", Name: "Demeanour", Short: "demeanour",
		System: exam.SystemGeneral, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("bright", "bright and alert", "ears moving, notices people"),
			note("quiet", "quiet, but answers", "",
				"Quieter than bright and alert; compare with how this horse usually is.", common("TRADE")),
			tell("dull", "dull, slow to answer", "in a donkey always an emergency",
				"Anything below quiet but answering is told at once.", common("TRADE")),
			recheck("restless", "restless or anxious", "",
				"Restlessness is on the list of early signs of colic.", published("REACT")),
			tell("distressed", "distressed or violent", "",
				"Violent pain or distress is a reason to stop and tell the veterinarian.", published("GUELPH")),
			tell("unresponsive", "does not answer", "",
				"A horse that does not answer is a reason to stop and tell the veterinarian.", published("GUELPH")),
			tell("seizure", "seizure, circling, head pressing", "",
				"Told at once: seizure or a disturbed mind. Keep clear of the head and feet.", common("TRADE")),
			tell("down", "down, cannot or will not rise", "",
				"A horse that cannot rise is a reason to stop and tell the veterinarian.", published("GUELPH")),
		},
		Usual: []string{"bright"},
		How: []string{
			"Watch for half a minute from outside, before it knows it is watched.",
			"Look at ears, eyes, interest in people and feed; ask what is usual.",
		},
	}
}

func posture() exam.Step {
	return exam.Step{
		ID: "posture", Name: "Posture", Short: "posture",
		System: exam.SystemGeneral, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("square", "stands square", "weight on all four feet"),
			usual("resting", "rests one hind foot, changes over", ""),
			usual("lying", "lies at ease, gets up when asked", ""),
			recheck("shifting", "shifts weight, points or rests a forefoot", "",
				"Weight shifting or foot lifting at rest is the first grade of a laminitis scale.", published("OBEL")),
			tell("leaning", "leans back, forefeet out in front", "",
				"Taking the weight off both forefeet: tell the veterinarian, do not make it walk.", memory()),
			recheck("stretched", "stands stretched as if to stale", "",
				"Stretching without staling goes to the hand-off.", memory()),
			tell("wide", "stands wide or crossed, sways", "",
				"An unsteady horse is not tied, turned tightly or loaded; tell the veterinarian.", memory()),
			tell("notbearing", "keeps one leg off the ground", "",
				"A leg that bears no weight is told at once.", practice("EQMED")),
			note("hunched", "head low, back or belly held tight", "",
				"A guarded way of standing; look for pain signs.", memory()),
		},
		Usual: []string{"square"},
		How: []string{
			"From outside the box: how does it share its weight over four feet?",
			"Look at the bedding too: dug up, flattened or untouched.",
		},
	}
}

// Facts of the anchors: Henneke 1983, as read in HENN; working
// target 4 to 6: HTCNS.
func conditionScore() exam.Step {
	const why = "Outside the working target of 4 to 6 for most horses."
	return exam.Step{
		ID: "condition.score", Name: "Condition score, 1 to 9", Short: "condition 1-9", Plain: "Body condition, 1 to 9",
		System: exam.SystemGeneral, Kind: exam.KindScale,
		Choices: scored(1,
			tell("1", "poor", "no fat to feel, every bone stands out", "A horse without any fat to feel is told today.", memory()),
			recheck("2", "very thin", "thin cover on the spines, bones prominent", why, practice("HTCNS")),
			note("3", "thin", "ribs plain to see, tail bones not singly", why, practice("HTCNS")),
			usual("4", "moderately thin", "slight ridge along the back, ribs just traced"),
			usual("5", "moderate", "back level, ribs felt but not seen"),
			usual("6", "moderately fleshy", "fat over ribs gives, tailhead soft"),
			note("7", "fleshy", "single ribs felt, filling between them", why, practice("HTCNS")),
			recheck("8", "fat", "ribs hard to find, groove down the back", why, practice("HTCNS")),
			recheck("9", "extremely fat", "deep groove, fat in patches and bulges", why, practice("HTCNS")),
		),
		Parts: score.ConditionParts(),
		How: []string{
			"Feel, do not only look: crest, withers, shoulder, ribs, loin, tail.",
			"Winter coat hides ribs. The scale runs from 1 to 9, not from 0 to 5.",
			"Score it at once, or the six areas each; half scores with the point.",
		},
		Caution: "Run a hand along the back to the tail; stand beside, not behind.",
	}
}

// The steps 0 and 5 were read (CNSSR), 1 to 4 are from memory of Carter
// et al. 2009; from 3 a neck is called cresty (GILES).
func neckCrest() exam.Step {
	const why = "From 3 a neck is called cresty in the literature; set it beside the earlier scores."
	return exam.Step{
		ID: "neck.crest", Name: "Crest of the neck, 0 to 5", Short: "crest 0-5",
		System: exam.SystemGeneral, Kind: exam.KindScale, Asked: exam.AskedOfGrown,
		Choices: scored(0,
			usual("0", "nothing to see or feel", ""),
			usual("1", "not seen, slight filling felt", ""),
			usual("2", "seen, even, fits the hand, bends sideways", ""),
			note("3", "thick, mounded mid-neck, fills the hand", "getting stiff", why, published("GILES")),
			note("4", "very thick, cannot be cupped or bent", "may be creased", why, published("GILES")),
			note("5", "fallen over to one side for good", "", why, published("GILES")),
		),
		How: []string{
			"Cup the crest half-way along the neck, head level; bend it sideways.",
			"It is higher at the end of winter than of summer. Same hand, same side.",
		},
		Caution: "Stand at the shoulder, not in front; the head can come round.",
	}
}

// The place of the tape: University of Minnesota, body measurements. The spans are
// from memory: from a small miniature to the tallest draft horses.
func heightWithers() exam.Step {
	return exam.Step{
		ID: "height.withers", Name: "Height at the withers", Short: "height",
		System: exam.SystemGeneral, Kind: exam.KindNumber, Asked: exam.AskedOfGrown,
		Unit: exam.Centimetre, Units: []exam.Unit{exam.Centimetre, exam.Inch}, Decimals: 1,
		Possible: exam.Span{Low: 50, High: 220}, Likely: exam.Span{Low: 60, High: 200},
		How: []string{
			"From hard, level ground straight up to the top of the withers.",
			"Standing square, head low enough for the withers to be the highest.",
		},
		Caution: "Hold the stick on your own side; let the horse see it first.",
	}
}

func neckGirth() exam.Step {
	return exam.Step{
		ID: "neck.girth", Name: "Neck girth", Short: "neck girth",
		System: exam.SystemGeneral, Kind: exam.KindNumber, Asked: exam.AskedOfGrown,
		Unit: exam.Centimetre, Units: []exam.Unit{exam.Centimetre, exam.Inch}, Decimals: 1,
		Possible: exam.Span{Low: 30, High: 180}, Likely: exam.Span{Low: 40, High: 150},
		How: []string{
			"Around the neck half-way between poll and withers, neck relaxed.",
			"Over the height at the withers it gives a ratio; same place every time.",
		},
		Caution: "Pass the tape round from the shoulder, never over the face.",
	}
}

// Depth and timing: COOR, HALL19, WVS (touch the wall, about 5 cm; glass 2 to
// 3 minutes). Core temperature reaches 43 C in racing (MERCKHS).
func tempRectal() exam.Step {
	return exam.Step{
		ID: "temp.rectal", Name: "Rectal temperature", Short: "temperature",
		System: exam.SystemGeneral, Kind: exam.KindNumber,
		Unit: exam.Celsius, Units: []exam.Unit{exam.Celsius, exam.Fahrenheit}, Decimals: 1,
		Possible: exam.Span{Low: 30, High: 45}, Likely: exam.Span{Low: 35, High: 41.5},
		How: []string{
			"Tip greased, against the rectal wall, not in manure, about 5 cm deep.",
			"Digital: wait for the beep. Glass: shake down, then 2 to 3 minutes.",
			"Low in a bright horse: place it again before you believe it.",
		},
		Caution: "Stand close beside the hip, never behind; keep hold of the thermometer.",
		Range:   ranges.TempRectal, SlowSeconds: 120,
	}
}

// The spans run from a small newborn to the heaviest draft horses: from memory.
func weightBody() exam.Step {
	return exam.Step{
		ID: "weight.body", Name: "Body weight", Short: "weight",
		System: exam.SystemGeneral, Kind: exam.KindWeight,
		Unit: exam.Kilograms, Units: []exam.Unit{exam.Kilograms, exam.Pounds}, Decimals: 1,
		Possible: exam.Span{Low: 3, High: 1600}, Likely: exam.Span{Low: 20, High: 1100},
		How: []string{
			"Scale before tape, tape before eye. Same way, same tape at every visit.",
			"Each measure says where the tape goes on this animal; horse square.",
		},
		Caution: "Pass the tape under from the side; never duck under neck or belly.",
	}
}

func closing() []exam.Step {
	return []exam.Step{{
		ID: "note", Name: "Anything else", Short: "anything else",
		System: exam.SystemGeneral, Kind: exam.KindNote,
		How: []string{
			"What no step asked: feed and water left, travel, what the owner saw.",
			"Write what you saw, not what you think it is.",
		},
	}}
}
