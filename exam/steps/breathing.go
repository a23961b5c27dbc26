package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func breathing() []exam.Step {
	return []exam.Step{breathRate(), breathEffort(), lungSounds()}
}

// Before handling, from outside: GUELPH. A full minute: counting.md,
// section 5. Foals breathe 60 to 80 in the first half hour: FOALT.
func breathRate() exam.Step {
	return exam.Step{
		ID: "breath.rate", Name: "Breathing rate", Short: "breathing rate",
		System: exam.SystemBreathing, Kind: exam.KindCount, Heard: "breath",
		Unit: notation.PerMinute, Units: []notation.Unit{notation.PerMinute}, Decimals: 1,
		Possible: exam.Span{Low: 1, High: 250}, Likely: exam.Span{Low: 5, High: 100},
		FromOutside: true, Sense: exam.ByEye, Listen: exam.ListenBreath,
		Shows: exam.Shows{While: "You stand outside the box and watch the flank."},
		How: []string{
			"From outside the box, before anyone touches the horse.",
			"Watch one flank: press each time it starts to move out.",
			"A full minute, or at least ten breaths. Do not count sniffing.",
		},
		Range: ranges.BreathRate,
	}
}

// Five steps of effort at rest: facts of ASTHMA table 1, in our words.
func breathEffort() exam.Step {
	const laboured = "Labored breathing is on a practice's list of reasons to call, whatever the rate."
	return exam.Step{
		ID: "breath.effort", Name: "Breathing effort, 0 to 4", Short: "effort 0-4", Plain: "How hard it breathes",
		System: exam.SystemBreathing, Kind: exam.KindScale,
		Choices: scored(0,
			usual("0", "none", "flank hardly moves"),
			note("1", "slight", "belly lifts a little as the breath ends",
				"A slight belly lift at rest is the first step of a published score of effort.", published("ASTHMA")),
			tell("2", "plain", "belly lift easy to see", laboured, practice("LAT36")),
			tell("3", "strong", "belly works hard, nostrils flare", laboured, practice("LAT36")),
			tell("4", "extreme", "whole body rocks, horse distressed", laboured, practice("LAT36")),
		),
		Usual:       []string{"0"},
		FromOutside: true, Sense: exam.ByEye, Listen: exam.ListenBreath,
		Shows: exam.Shows{
			Choices: map[string]string{
				"0": "You have to look twice to see it breathe.",
				"1": "At the end of each breath out the line along the lower ribs rises a touch.",
				"2": "From the door you see the abdomen lift with each breath out.",
				"3": "A line stands out along the ribs with each breath, and the nostrils are wide open.",
				"4": "It rocks to and fro with each breath, nostrils like trumpets, and will not look up.",
			},
		},
		How: []string{
			"Watch nostrils, chest, flank and the line along the lower ribs.",
			"At rest the movement is hardly seen; listen for noise at the nostrils.",
		},
	}
}

func lungSounds() exam.Step {
	return exam.Step{
		ID: "lung.sounds", Name: "Lung sounds", Short: "lung sounds",
		System: exam.SystemBreathing, Kind: exam.KindMarks, Sites: quarters(),
		Choices: []exam.Choice{
			usual("soft", "quiet and even, as expected at rest", "breath in louder than out"),
			note("harsh", "louder, harsher than expected", "",
				"Louder than expected: compare both sides; it goes to the hand-off.", published("MUNROER")),
			recheck("crackles", "crackles", "short, popping",
				"Crackles go to the hand-off, with the side and the height.", published("MUNROER")),
			recheck("wheezes", "wheezes", "musical, mostly breathing out",
				"Wheezes go to the hand-off, with the side and the height.", published("WIKIRAO")),
			recheck("rub", "friction rub", "squeak at the turn of the breath",
				"A rub can fade: it goes to the hand-off even where it is not heard again.", published("MUNROER")),
			recheck("rattle", "rattle in the windpipe", "",
				"A rattle goes to the hand-off.", published("WIKIRAO")),
			tell("absent", "absent or muffled below", "heart heard too widely",
				"No sound low down is for the veterinarian.", practice("EHU")),
			tell("quiet", "very quiet with great effort", "",
				"Quiet lungs in a horse that works to breathe are not reassuring.", published("WIKIRAO")),
			note("unsure", "not sure", "", "Ask somebody else to listen.", common("TRADE")),
		},
		Usual: []string{"soft"}, Alone: []string{"soft", "unsure"},
		Sense: exam.ByEar, Listen: exam.ListenBreath,
		Shows: exam.Shows{
			While: "You hold the chest piece still through the breath.",
			Choices: map[string]string{
				"soft":     "A rustle of leaves far off as the ribs rise; going out, next to nothing.",
				"harsh":    "Each breath rasps under the chest piece, in and out.",
				"crackles": "As the breath ends: bubble-wrap under a thumb.",
				"wheezes":  "As it breathes out: a thin whistle of two notes.",
				"rub":      "As in turns to out: new leather creaking.",
				"rattle":   "A wet purr from the throat downwards with each breath.",
				"absent":   "Rustling above; low down no breath at all, and the heart comes through much too far back.",
				"quiet":    "You see it fight for air, and under the chest piece next to nothing.",
			},
			Never: []string{"unsure"},
		},
		How: []string{
			"Top, middle, bottom of each half; two breaths at every spot, both sides.",
			"Right is slightly louder. Foals sound louder all over; that is usual.",
		},
		Caution: "Stand close, facing the tail. Rebreathing bag only on the vet's word.",
	}
}
