package rehearse

import "loosebox/exam"

func sightsHeart() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		// The ear decides: the beats come from Beats, so the words only say what else is noticed.
		"heart.rhythm": {
			"regular":   "You listen behind the elbow and let your foot go with it for a minute.",
			"pauses":    "You listen behind the elbow and let your foot go with it for a minute; now and then only a soft low thud meets it.",
			"waves":     "You listen behind the elbow for a minute; your foot has to hurry a little, then to wait a little.",
			"early":     "You listen behind the elbow for a minute; once or twice your foot is late.",
			"irregular": "You listen behind the elbow for a minute; your foot cannot stay with it at all.",
		},
		"heart.murmur": {
			"0": "Lub, dub, and between them silence.",
			"1": "After a minute in a silent barn, at a single spot: perhaps a breath of a whoosh.",
			"2": "A gentle whoosh within a few beats, fainter than lub and dub.",
			"3": "A whoosh that matches lub and dub in strength.",
			"4": "A whoosh that drowns lub and dub, heard a hand's breadth away as well.",
			"5": "A whoosh that drowns lub and dub; your palm feels it purr.",
			"6": "It purrs under the palm, and you hear it with the chest piece just off the hair.",
		},
		"pulse.strength": {
			"good":   "The artery lifts your fingers the same each time without searching.",
			"strong": "The artery knocks hard against your fingers.",
			"weak":   "A flutter like a loose string, lost as soon as you press.",
			"uneven": "One lift is full, the next slight; then the heart sounds and nothing comes under the fingers.",
			"none":   "You roll your fingers along the jaw, both sides: no lift anywhere.",
		},
		"jugular.fill": {
			"prompt": "The groove rises like a rope before you have counted three, and drops flat as you let go.",
			"slow":   "You count to twelve before the groove has risen.",
			"none":   "You hold it off for half a minute: the groove stays flat.",
			"stays":  "It rises in time; you let go, and it stands there like before.",
			"high":   "With its nose above its withers you see it beat as far up as the throat.",
			"hard":   "Like a warm stick under the skin; the horse snatches away at the touch.",
		},
	}
}

func sightsGums() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"gum.colour": {
			"pink":      "The shade of fresh salmon.",
			"palepink":  "A washed-out rose, lighter than fresh salmon.",
			"pale":      "Whitish, with a trace of rose: the inside of a shell.",
			"white":     "No colour at all: like the tooth beside it.",
			"bright":    "Like a ripe tomato.",
			"brick":     "Like an old roof tile.",
			"purple":    "Like a plum, or wet slate.",
			"toxicline": "Salmon higher up, and a wine-coloured line where each tooth begins.",
			"yellow":    "The tint of butter.",
			"brown":     "The tint of strong tea.",
			"spots":     "Salmon, sprinkled as with a fine pen; the specks stay when you press.",
			"pigmented": "Black like the lips; nothing shows through.",
		},
		"gum.moisture": {
			"moist": "Your fingertip glides as over a wet plate.",
			"tacky": "Your fingertip is held back a little, like on a stamp just licked.",
			"dry":   "Your fingertip stays where it is until you pull it off.",
		},
	}
}

func sightsChest() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"breath.effort": {
			"0": "You have to look twice to see it breathe.",
			"1": "At the end of each breath out the line along the lower ribs rises a touch.",
			"2": "From the door you see the abdomen lift with each breath out.",
			"3": "A line stands out along the ribs with each breath, and the nostrils are wide open.",
			"4": "It rocks to and fro with each breath, nostrils like trumpets, and will not look up.",
		},
		"lung.sounds": {
			"soft":     "A rustle of leaves far off as the ribs rise; going out, next to nothing.",
			"harsh":    "Each breath rasps under the chest piece, in and out.",
			"crackles": "As the breath ends: bubble-wrap under a thumb.",
			"wheezes":  "As it breathes out: a thin whistle of two notes.",
			"rub":      "As in turns to out: new leather creaking.",
			"rattle":   "A wet purr from the throat downwards with each breath.",
			"absent":   "Rustling above; low down no breath at all, and the heart comes through much too far back.",
			"quiet":    "You see it fight for air, and under the chest piece next to nothing.",
		},
		// The ear decides: the sounds come from Sounds.
		"gut.sounds": {
			"none": "You hold the chest piece still and wait.", "reduced": "You hold the chest piece still and wait; what comes is far off.",
			"heard": "You hold the chest piece still and listen.", "increased": "You hold the chest piece still; it hardly lets you wait.",
		},
	}
}
