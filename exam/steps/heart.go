package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func heart() []exam.Step {
	return []exam.Step{
		heartRate(), heartRhythm(), heartMurmur(), pulseStrength(),
		gumColour(), gumMoisture(), gumRefill(), jugularFill(),
	}
}

// Counting window: FEI19, art. 821. Maximum heart rate 180 to 240: PROV4; the
// foal of 30 minutes, 160: NAGEL15.
func heartRate() exam.Step {
	return exam.Step{
		ID: "heart.rate", Name: "Heart rate", Short: "heart rate",
		System: exam.SystemHeart, Kind: exam.KindCount, Heard: "heart",
		Unit: notation.PerMinute, Units: []notation.Unit{notation.PerMinute}, Decimals: 1,
		Possible: exam.Span{Low: 5, High: 300}, Likely: exam.Span{Low: 20, High: 170},
		Sense: exam.ByEar, Listen: exam.ListenHeart,
		Shows: exam.Shows{While: "The chest piece lies behind the left elbow: lub-dub is one beat."},
		How: []string{
			"Stethoscope behind the left elbow, slid forward under the muscle.",
			"Lub-dub is one beat. Uneven, faint or with a murmur: a full minute.",
			"Without one: feel the artery that crosses under the jaw bone.",
		},
		Caution: "Stay close at the shoulder, handler on your side, back straight.",
		Range:   ranges.HeartRate,
	}
}

// Rhythms by what is heard only: an ECG names a rhythm, a technician does not.
func heartRhythm() exam.Step {
	return exam.Step{
		ID: "heart.rhythm", Name: "Heart rhythm", Short: "heart rhythm",
		System: exam.SystemHeart, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("regular", "regular", ""),
			note("pauses", "regular, pauses at regular intervals", "the pause falls on your tap",
				"Regular pauses are heard in healthy horses at rest; only an ECG names them.", published("RAEK92")),
			note("waves", "slows and quickens smoothly", "",
				"Smooth slowing and quickening is common as a horse settles.", practice("PROV2")),
			recheck("early", "an odd beat comes early", "",
				"Early beats are noted and told at the hand-off; listen for a full minute.", practice("PROV3")),
			tell("irregular", "irregular, no pattern to be found", "",
				"No pattern: tell the veterinarian before work or sedation; only an ECG names a rhythm.", published("MCG15")),
			recheck("unsure", "not sure", "",
				"An uncertain or uneven rhythm is listened to for a full minute.", published("FEI19")),
		},
		Usual: []string{"regular"},
		Sense: exam.ByEar, Listen: exam.ListenHeart,
		Shows: exam.Shows{
			While: "The chest piece lies behind the left elbow; your foot goes with the beat.", Moments: true,
			Choices: map[string]string{
				"regular":   "You listen behind the elbow and let your foot go with it for a minute.",
				"pauses":    "You listen behind the elbow and tap your foot for a minute. Now and then your foot meets only a soft low thud.",
				"waves":     "You listen behind the elbow for a minute; your foot has to hurry a little, then to wait a little.",
				"early":     "You listen behind the elbow for a minute; once or twice your foot is late.",
				"irregular": "You listen behind the elbow for a minute; your foot cannot stay with it at all.",
			},
			Never: []string{"unsure"},
		},
		How: []string{
			"Tap a foot to the beat: does each pause fall where a beat was due?",
			"A soft extra sound can be heard in the pause: it is no beat.",
			"Uneven: a full minute. Trot it only if the veterinarian asked.",
		},
		Caution: "Stay close at the shoulder, handler on your side.",
	}
}

// Six grades by loudness: facts read in EQCARD and VCH, the words are ours.
// Which grade to report is from memory.
func heartMurmur() exam.Step {
	const soft = "Specialists describe soft flow murmurs of grade 1 to 3. Side, site and grade are saved."
	const loud = "A murmur this loud is for the veterinarian to name before work or sedation."
	return exam.Step{
		ID: "heart.murmur", Name: "Heart murmur, 0 to 6", Short: "murmur 0-6", Plain: "Sound between the heart beats",
		System: exam.SystemHeart, Kind: exam.KindScale, Sites: sides(),
		Choices: scored(0,
			usual("0", "none heard", ""),
			note("1", "barely there", "one spot, after long listening in quiet", soft, published("REEF")),
			note("2", "soft", "found soon, softer than the heart sounds", soft, published("REEF")),
			recheck("3", "middling", "about as loud as the heart sounds",
				"From grade 3 a murmur goes to the hand-off, new or known.", memory()),
			tell("4", "loud", "louder than the heart sounds, spreads", loud, memory()),
			tell("5", "loud with a thrill", "a buzz under the flat hand", loud, memory()),
			tell("6", "loudest", "still heard with the stethoscope lifted off", loud, memory()),
		),
		Usual: []string{"0"},
		Sense: exam.ByEar, Listen: exam.ListenHeart,
		Shows: exam.Shows{
			While: "You hold the chest piece still and listen between lub and dub.",
			Choices: map[string]string{
				"0": "Lub, dub, and between them silence.",
				"1": "After a minute in a silent barn, at a single spot: perhaps a breath of a whoosh.",
				"2": "A gentle whoosh within a few beats, fainter than lub and dub.",
				"3": "A whoosh that matches lub and dub in strength.",
				"4": "A whoosh that drowns lub and dub, heard a hand's breadth away as well.",
				"5": "A whoosh that drowns lub and dub; your palm feels it purr.",
				"6": "It purrs under the palm, and you hear it with the chest piece just off the hair.",
			},
		},
		How: []string{
			"Left: third to fifth rib space; right: fourth. Below the shoulder line.",
			"Count loudness only; add place and timing as a comment if you are sure.",
			"The veterinarian names it. Newborns may have a soft one for days.",
		},
		Caution: "Stay close at the shoulder; ask the handler to bring the head to you.",
	}
}

func pulseStrength() exam.Step {
	return exam.Step{
		ID: "pulse.strength", Name: "Pulse under the jaw", Short: "pulse strength",
		System: exam.SystemHeart, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("good", "easily felt, even", ""),
			note("strong", "stronger than usual", "",
				"A hard-driven pulse goes with work, excitement and illness alike.", memory()),
			tell("weak", "weak, thready", "",
				"A weak pulse is a danger sign in a study of 1,016 first visits for colic.", published("CURTIS")),
			tell("uneven", "strength changes, or beats go missing", "",
				"A heart beat without a pulse is told at once.", memory()),
			recheck("none", "cannot be found", "",
				"Try the other side and the artery behind the eye before you leave it.", memory()),
		},
		Usual: []string{"good"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"good":   "The artery lifts your fingers the same each time without searching.",
				"strong": "The artery knocks hard against your fingers.",
				"weak":   "A flutter like a loose string, lost as soon as you press.",
				"uneven": "One lift is full, the next slight; then the heart sounds and nothing comes under the fingers.",
				"none":   "You roll your fingers along the jaw, both sides: no lift anywhere.",
			},
		},
		How: []string{
			"Roll two fingers over the artery at the front inner edge of the jaw.",
			"Where the heart was uneven, listen and feel at the same time.",
		},
		Caution: "Stand beside the head, not before it; keep fingers off the lips.",
	}
}

// What is usual of the jugular vein: PENNP and ANMAN.
func jugularFill() exam.Step {
	return exam.Step{
		ID: "jugular.fill", Name: "Jugular filling", Short: "jugular", Plain: "Filling of the neck vein",
		System: exam.SystemHeart, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("prompt", "fills within seconds, empties fast", ""),
			recheck("slow", "fills slowly", "",
				"The vein should fill within several seconds.", published("PENNP")),
			recheck("none", "does not fill", "",
				"Try the other side; a vein that will not fill goes to the hand-off.", memory()),
			recheck("stays", "stays full when let go", "",
				"The vein should empty fast when it is let go.", published("PENNP")),
			tell("high", "pulses high up the neck, head up", "above the lower third",
				"With the head up a pulse above the lower third is for the veterinarian.", published("PENNP")),
			tell("hard", "hot, hard, cord-like or sore", "",
				"A hot hard vein is told at once; nothing is put into it.", practice("CAV")),
		},
		Usual: []string{"prompt"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"prompt": "The groove rises like a rope before you have counted three, and drops flat as you let go.",
				"slow":   "You count to twelve before the groove has risen.",
				"none":   "You occlude it for half a minute: the groove stays flat.",
				"stays":  "It rises in time; you let go, and it stands there like before.",
				"high":   "With its nose above its withers you see it beat as far up as the throat.",
				"hard":   "Like a warm stick under the skin; the horse snatches away at the touch.",
			},
		},
		How: []string{
			"Head in its usual height. Press the groove low in the neck and watch.",
			"Count how long until it stands up, then let go: it should drop at once.",
		},
		Caution: "Stand at the shoulder, handler on your side; keep off the windpipe.",
	}
}
