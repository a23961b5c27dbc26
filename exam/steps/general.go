package steps

import "loosebox/exam"

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
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"held":   "A handler has it on a rope, standing at its head on your side; it lowers its nose to you.",
				"tied":   "It is on a ring at eye height with a quick-release knot and nibbles the rope.",
				"loose":  "No rope on it; it stays where it is in its box and turns an ear to you.",
				"uneasy": "Its quarters come round at you again and again, ears flat; it cannot keep still.",
				"unsafe": "It wheels and lets fly with both hind feet at the door before you have touched the bolt.",
			},
			Healthy: []string{"held"},
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
		ID: "demeanour", Name: "Demeanor", Short: "demeanor",
		System: exam.SystemGeneral, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("bright", "bright and alert", "ears moving, notices people"),
			note("quiet", "quiet but responsive", "",
				"Quieter than bright and alert; compare with how this horse usually is.", common("TRADE")),
			tell("dull", "dull, slow to answer", "in a donkey always an emergency",
				"Anything below quiet but responsive: tell the veterinarian at once.", common("TRADE")),
			recheck("restless", "restless or anxious", "",
				"Restlessness is on the list of early signs of colic.", published("REACT")),
			tell("distressed", "distressed or violent", "",
				"Violent pain or distress is a reason to stop and tell the veterinarian.", published("GUELPH")),
			tell("unresponsive", "does not respond", "",
				"A horse that does not respond is a reason to stop and tell the veterinarian.", published("GUELPH")),
			tell("seizure", "seizure, circling, head pressing", "",
				"Seizure or disturbed mind: tell the veterinarian at once. Keep clear of head and feet.", common("TRADE")),
			tell("down", "down, cannot or will not rise", "",
				"A horse that cannot rise is a reason to stop and tell the veterinarian.", published("GUELPH")),
		},
		Usual:       []string{"bright"},
		FromOutside: true, Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"bright":       "Ears turn to each sound; it looks at you, then at the bucket.",
				"quiet":        "It stands still and takes little interest, yet flicks an ear and lifts its head when spoken to.",
				"dull":         "Head low, lids half shut; it takes some seconds and a second word before an ear moves.",
				"restless":     "It walks to the door and back, cannot settle, whinnies, walks again.",
				"distressed":   "Wild eye, wet coat; it throws itself about as if nobody were there.",
				"unresponsive": "You clap, then touch it: no ear, no eye, nothing moves.",
				"seizure":      "It walks the same ring round and round, then leans its forehead hard against the wall.",
				"down":         "It lies on its side. Urged, it lifts its head, tries with the forelegs and sinks back.",
			},
			Young: map[string]string{
				"bright": "It jumps up as you come, hides behind the mare and peers out at you.",
				"dull":   "It lies flat beside the mare; you touch it, and some seconds later an eye opens.",
			},
		},
		How: []string{
			"Watch for half a minute from outside, before it notices you.",
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
			recheck("stretched", "stands stretched as if to urinate", "",
				"Stretching without urinating goes to the hand-off.", memory()),
			tell("wide", "stands wide or crossed, sways", "",
				"An unsteady horse is not tied, turned tightly or loaded; tell the veterinarian.", memory()),
			tell("notbearing", "keeps one leg off the ground", "",
				"A leg that bears no weight is told at once.", practice("EQMED")),
			note("hunched", "head low, back or belly held tight", "",
				"A guarded way of standing; look for pain signs.", memory()),
		},
		Usual:       []string{"square"},
		FromOutside: true, Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"square":     "Four feet under it, each carrying its share.",
				"resting":    "A toe tipped behind; after a minute that foot goes flat and the other hind toe tips.",
				"lying":      "On its breast in the straw, dozing; when spoken to it is up in one easy movement.",
				"shifting":   "Left fore, right fore, left fore: it cannot leave its load on either for long.",
				"leaning":    "Hind feet far under the belly, front feet planted well ahead, load on the heels.",
				"stretched":  "Fore and hind feet stand far apart, back dipped, as before passing water; nothing comes.",
				"wide":       "Its feet are set far out, one across the other; the whole horse rocks like a boat.",
				"notbearing": "One toe hangs clear of the straw and is not put down while you watch.",
				"hunched":    "Nose near the knees, loins rounded up, the muscles of the flank drawn tight.",
			},
		},
		How: []string{
			"From outside the box: how does it share its weight over four feet?",
			"Look at the bedding too: dug up, flattened or untouched.",
		},
	}
}
