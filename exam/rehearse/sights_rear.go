package rehearse

import "loosebox/exam"

func sightsRear() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"manure": {
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
		"urine": {
			"yellow":    "It stales as you come: a full stream like weak tea with milk in it.",
			"told":      "No patch in the bed yet. The groom: \"At six, as always, nothing odd about it.\"",
			"notseen":   "No patch in the bed, and the groom came only just now.",
			"dark":      "A small patch, deep amber, strong of smell.",
			"red":       "It stales as you come: like thin wine from the first drop.",
			"coffee":    "It stales a little, and you think of the bottom of a cafetiere.",
			"straining": "It stands with hind legs spread and groans; not a drop.",
			"dribbling": "Drop by drop all the time; the inside of the thighs is raw.",
		},
	}
}

func sightsUdder() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"udder.sheath": {
			"good":      "Clean, cool, both sides alike; it lets you look.",
			"wax":       "Full as a loaf, and a honey-coloured bead hangs at the tip of each.",
			"smegma":    "Grey flakes and paste on your glove.",
			"swollen":   "Puffed out like dough, cool; a finger leaves a pit.",
			"hot":       "Like a warm stone on one side; it lifts a leg as you come near.",
			"sores":     "A cauliflower the size of a thumbnail, raw on top.",
			"discharge": "Grey threads stick to the tail; she is neither bred nor in heat.",
			"pregnant":  "She is due in spring; the tail is stuck together with brownish slime.",
			"placenta":  "She foaled before midnight; a grey-red veil still hangs to her hocks.",
			"redmass":   "Something like a wet crimson sack hangs from beneath the tail.",
			"penis":     "It dangles to the hocks, thick, and stays there when touched.",
			"scrotum":   "Twice its size, like a heated ball; he squeals at the touch.",
		},
	}
}

func sightsPain() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"pain.signs": {
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
	}
}
