package steps

import "loosebox/exam"

func gut() []exam.Step {
	return []exam.Step{gutSounds(), bellyDistension()}
}

// Four words that clinics use; what each leans on: CURTIS, MICK24, WIKIV.
func gutSounds() exam.Step {
	return exam.Step{
		ID: "gut.sounds", Name: "Gut sounds", Short: "gut sounds",
		System: exam.SystemGut, Kind: exam.KindPick, Sites: quarters(), OneForAll: true,
		Choices: []exam.Choice{
			recheck("none", "none", "nothing in the whole time",
				"No sound in a quadrant is a danger sign in a study of 1,016 colic visits.", published("CURTIS")),
			note("reduced", "reduced", "fewer or fainter than expected",
				"Fewer sounds are heard in a horse off its feed or in pain; do not read them alone.", published("WIKIV")),
			usual("heard", "heard", "one to three a minute"),
			note("increased", "increased", "loud or all the time",
				"More sounds than usual are heard in some colics and before loose manure.", published("WIKIV")),
		},
		Usual: []string{"heard"},
		Sense: exam.ByEar, Listen: exam.ListenGut,
		Shows: exam.Shows{
			While: "You hold the chest piece still and listen.", Moments: true,
			Choices: map[string]string{
				"none": "You hold the chest piece still and wait.", "reduced": "You hold the chest piece still and wait; what comes is far off.",
				"heard": "You hold the chest piece still; every now and then it speaks.", "increased": "You hold the chest piece still; it hardly lets you wait.",
			},
		},
		How: []string{
			"A minute at each: flank above, then low behind the ribs, left and right.",
			"Right upper: wait up to 4 minutes for the long rush before calling none.",
			"Left lower can be quieter. Sounds are fewer just after work.",
		},
		Caution: "Stand close to the ribs, a hand on the back; watch the hind leg.",
	}
}

func bellyDistension() exam.Step {
	return exam.Step{
		ID: "belly.distension", Name: "Belly shape", Short: "belly shape",
		System: exam.SystemGut, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("none", "even, soft outline", ""),
			note("slight", "slightly distended", "",
				"Compare with how the horse usually looks, and look again in half an hour.", memory()),
			recheck("moderate", "distended", "comment: which side",
				"A distended belly goes to the hand-off; with pain it is told at once.", memory()),
			tell("severe", "tight as a drum", "",
				"A tight belly is told at once.", memory()),
			note("tucked", "tucked up", "", "Recorded; ask about feed, water and travel.", memory()),
			recheck("swollen", "soft swelling under the belly", "",
				"Swelling under the belly goes to the hand-off; say whether a dent stays.", memory()),
		},
		Usual: []string{"none"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"none":     "From behind, both flanks fall away alike in a gentle curve.",
				"slight":   "From behind, the flanks are a little fuller than the groom is used to.",
				"moderate": "From behind, the hollow of the flank is filled out and the ribs look sprung.",
				"severe":   "The flanks stand out past the ribs; flicked with a finger they ring, nothing gives.",
				"tucked":   "The line of the belly runs steeply up to the stifle like a greyhound's.",
				"swollen":  "A flat pad hangs along the midline from girth to sheath or udder; a finger leaves a dent.",
			},
		},
		How: []string{
			"Stand back and look along both flanks from behind at a safe distance,",
			"then from the side. Left, right or both; higher than at the last visit?",
		},
		Caution: "Pass behind with a hand along the rump, or well out of kicking range.",
	}
}
