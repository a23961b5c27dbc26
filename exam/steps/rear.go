package steps

import "loosebox/exam"

func rear() []exam.Step {
	return []exam.Step{manure(), urine(), udderSheath()}
}

func manure() exam.Step {
	return exam.Step{
		ID: "manure", Name: "Manure", Short: "manure",
		System: exam.SystemRear, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("balls", "formed balls", "eight to fifteen piles a day"),
			usual("meconium", "dark first manure", "newborn"),
			note("dry", "dry, small or slimy balls", "", "Dry or coated balls are recorded; ask about water and feed.", memory()),
			note("soft", "soft, no balls", "", "Softer than usual; ask about feed and grass.", memory()),
			recheck("cowpat", "like a cow-pat", "", "Loose manure goes to the hand-off; gloves and clean boots.", memory()),
			tell("watery", "watery or foul", "", "Watery foul manure is on a list of reasons to call; gloves, keep it apart.", practice("DUM")),
			tell("none", "none for 12 hours", "", "No manure for 12 hours is on a practice's list of colic signs.", practice("NEWC2")),
			note("notseen", "none seen yet", "", "Ask when it was last mucked out, and by whom.", common("TRADE")),
			recheck("sand", "sand in it", "", "Sand goes to the hand-off.", memory()),
			note("worms", "worms in it", "", "Worms are noted with what they look like.", memory()),
			tell("blood", "blood in it", "", "Blood in the manure is told at once.", practice("MCG")),
			tell("straining", "strains, little or nothing comes", "", "Straining is on a list of reasons to call.", practice("DUM")),
		},
		Usual: []string{"balls"},
		How: []string{
			"Look at the box floor, under the tail and at the hind legs.",
			"How much since the last mucking out, how formed, what colour and smell.",
		},
		Caution: "Do not step behind to look; loose manure: gloves, this horse last.",
	}
}

func urine() exam.Step {
	return exam.Step{
		ID: "urine", Name: "Urine", Short: "urine",
		System: exam.SystemRear, Kind: exam.KindPick,
		Choices: []exam.Choice{
			usual("yellow", "pale to yellow, clear or cloudy", "cloudy is usual in horses"),
			usual("told", "not seen, usual by the keeper's word", ""),
			note("notseen", "not seen, nobody knows", "", "Look for a wet patch later in the day.", common("TRADE")),
			note("dark", "dark yellow", "", "Darker than usual; ask about water and work.", common("TRADE")),
			tell("red", "red or bloody", "on snow or shavings it can redden late", "Blood in the urine is on a list of reasons to call.", practice("DUM")),
			tell("coffee", "brown like coffee", "", "Coffee-coloured urine is told at once; do not make it walk.", common("TRADE")),
			tell("straining", "strains, nothing comes", "", "Straining without urine is told at once.", practice("DUM")),
			recheck("dribbling", "dribbles, legs scalded", "", "Dribbling goes to the hand-off.", memory()),
		},
		Usual: []string{"yellow"},
		How: []string{
			"Seen, or a wet patch in the bed; fresh colour, not what has dried.",
			"Ask when and how it last staled.",
		},
	}
}

func udderSheath() exam.Step {
	return exam.Step{
		ID: "udder.sheath", Name: "Udder, vulva or sheath", Short: "udder or sheath",
		System: exam.SystemRear, Kind: exam.KindMarks,
		Choices: []exam.Choice{
			usual("good", "nothing found", ""),
			note("wax", "bagged up, or wax on the teats", "", "Foaling may be near: tell whoever sits up.", memory()),
			note("smegma", "smegma or dirt", "", "Noted.", memory()),
			recheck("swollen", "swollen", "", "Swelling goes to the hand-off.", memory()),
			recheck("hot", "hot, hard or sore", "", "Heat and pain go to the hand-off; a foal may not be getting milk.", memory()),
			recheck("sores", "sores or growths", "", "Noted with place and size.", memory()),
			recheck("discharge", "discharge outside season", "", "Gloves on; goes to the hand-off.", memory()),
			tell("pregnant", "discharge in a mare in foal", "", "Told at once; keep the mare apart.", memory()),
			tell("placenta", "afterbirth not out after 3 hours", "", "An afterbirth kept over 3 hours is an emergency; do not pull.", practice("MIDR")),
			tell("redmass", "red mass, or foul or bloody flow", "", "Told at once.", memory()),
			tell("penis", "penis hangs, cannot be drawn in", "", "Told at once; keep it clean and off the ground.", memory()),
			tell("scrotum", "scrotum hot, hard or very sore", "", "Told at once.", memory()),
		},
		Usual: []string{"good"}, Alone: []string{"good"},
		How: []string{
			"Look before touching, from beside the stifle, handler on your side.",
			"Touch only if the horse allows it; a look is enough for most visits.",
		},
		Caution: "Stand close to the flank, facing the tail; stop if it lifts a leg.",
	}
}
