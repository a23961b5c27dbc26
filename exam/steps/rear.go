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
			note("notseen", "none seen yet", "", "Ask when, and who last mucked it out.", common("TRADE")),
			recheck("sand", "sand in it", "", "Sand goes to the hand-off.", memory()),
			note("worms", "worms in it", "", "Worms are noted with what they look like.", memory()),
			tell("blood", "blood in it", "", "Blood in the manure is told at once.", practice("MCG")),
			tell("straining", "strains, little or nothing comes", "", "Straining is on a list of reasons to call.", practice("DUM")),
		},
		Usual: []string{"balls"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"balls":     "Six heaps since last evening, moist apples that break as they fall.",
				"meconium":  "Pellets like tar, sticky, under the foal's tail.",
				"dry":       "Two heaps of hard marbles, some with a skin of slime.",
				"soft":      "Heaps that have lost their shape and lie like porridge.",
				"cowpat":    "Flat green rounds, splashed at the edge, and the tail is soiled.",
				"watery":    "Green water down both hocks; the smell reaches the aisle.",
				"none":      "A clean bed. The groom mucked out last evening, and nobody has seen any since.",
				"notseen":   "A clean bed. It was mucked out half an hour ago.",
				"sand":      "Apples that crunch between gloved fingers; a gritty film is left.",
				"worms":     "Apples with fine threads in them that move.",
				"blood":     "Apples with a red smear through them.",
				"straining": "Tail up, it pushes and pushes; one pellet falls.",
			},
			Young: map[string]string{
				"balls": "A few small yellow-brown lumps, soft enough to be flattened by a straw.",
				"none":  "A clean bed. The groom has sat here since last evening and saw none.",
			},
			Newborn: "meconium",
		},
		How: []string{
			"Look at the box floor, under the tail and at the hind legs.",
			"How much since the last mucking out, how formed, what color and smell.",
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
			usual("told", "not seen, groom says normal", ""),
			note("notseen", "not seen, not known", "", "Look for a wet patch later in the day.", common("TRADE")),
			note("dark", "dark yellow", "", "Darker than usual; ask about water and work.", common("TRADE")),
			tell("red", "red or bloody", "on snow or shavings it can redden late", "Blood in the urine is on a list of reasons to call.", practice("DUM")),
			tell("coffee", "brown like coffee", "", "Coffee-coloured urine is told at once; do not make it walk.", common("TRADE")),
			tell("straining", "strains, nothing comes", "", "Straining without urine is told at once.", practice("DUM")),
			recheck("dribbling", "dribbles, legs scalded", "", "Dribbling goes to the hand-off.", memory()),
		},
		Usual:       []string{"yellow"},
		FromOutside: true, Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"yellow":    "It urinates as you come: a full stream like weak tea with milk in it.",
				"told":      "No patch in the bed yet. The groom: \"At six, as always, nothing odd about it.\"",
				"notseen":   "No patch in the bed, and the groom came only just now.",
				"dark":      "A small patch, deep amber, strong of smell.",
				"red":       "It urinates as you come: like thin wine from the first drop.",
				"coffee":    "It urinates a little, and you think of the bottom of a cafetiere.",
				"straining": "It stands with hind legs spread and groans; not a drop.",
				"dribbling": "Drop by drop all the time; the inside of the thighs is raw.",
			},
			Young: map[string]string{
				"yellow": "It urinates as you come: a full stream, nearly like water.",
			},
		},
		How: []string{
			"Seen, or a wet patch in the bed; fresh color, not what has dried.",
			"Ask when and how it last urinated.",
		},
	}
}

func udderSheath() exam.Step {
	return exam.Step{
		ID: "udder.sheath", Name: "Udder, vulva or sheath", Short: "udder or sheath",
		System: exam.SystemRear, Kind: exam.KindMarks,
		Choices: []exam.Choice{
			usual("good", "nothing found", ""),
			of(female(), note("wax", "bagged up, or wax on the teats", "", "Foaling may be near: tell whoever sits up.", memory())),
			note("smegma", "smegma or dirt", "", "Noted.", memory()),
			recheck("swollen", "swollen", "", "Swelling goes to the hand-off.", memory()),
			recheck("hot", "hot, hard or sore", "", "Heat and pain go to the hand-off; a foal may not be getting milk.", memory()),
			recheck("sores", "sores or growths", "", "Noted with place and size.", memory()),
			of(female(), recheck("discharge", "discharge outside season", "", "Gloves on; goes to the hand-off.", memory())),
			of(female(), tell("pregnant", "discharge in a mare in foal", "", "Told at once; keep the mare apart.", memory())),
			of(female(), tell("placenta", "afterbirth not out after 3 hours", "", "An afterbirth kept over 3 hours is an emergency; do not pull.", practice("MIDR"))),
			of(female(), tell("redmass", "red mass, or foul or bloody flow", "", "Told at once.", memory())),
			of(male(), tell("penis", "penis hangs, cannot be drawn in", "", "Told at once; keep it clean and off the ground.", memory())),
			of(entire(), tell("scrotum", "scrotum hot, hard or very sore", "", "Told at once.", memory())),
		},
		Usual: []string{"good"}, Alone: []string{"good"},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			Choices: map[string]string{
				"good":      "Clean, cool, both sides alike; it lets you look.",
				"wax":       "Full as a loaf, and a honey-coloured bead hangs at the tip of each.",
				"smegma":    "Gray flakes and paste on your glove.",
				"swollen":   "Puffed out like dough, cool; a finger leaves a pit.",
				"hot":       "Like a warm stone on one side; it lifts a leg as you come near.",
				"sores":     "A cauliflower the size of a thumbnail, raw on top.",
				"discharge": "Gray threads stick to the tail; she is neither bred nor in heat.",
				"pregnant":  "She is due in spring; the tail is stuck together with brownish slime.",
				"placenta":  "She foaled before midnight; a gray-red veil still hangs to her hocks.",
				"redmass":   "Something like a wet crimson sack hangs from beneath the tail.",
				"penis":     "It dangles to the hocks, thick, and stays there when touched.",
				"scrotum":   "Twice its size, like a heated ball; he squeals at the touch.",
			},
		},
		How: []string{
			"Look before touching, from beside the stifle, handler on your side.",
			"Touch only if the horse allows it; a look is enough for most visits.",
		},
		Caution: "Stand close to the flank, facing the tail; stop if it lifts a leg.",
	}
}
