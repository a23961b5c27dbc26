package rehearse

import "loosebox/exam"

func sightsGeneral() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"approach": {
			"held":   "A handler has it on a rope, standing at its head on your side; it lowers its nose to you.",
			"tied":   "It is on a ring at eye height with a quick-release knot and nibbles the rope.",
			"loose":  "No rope on it; it stays where it is in its box and turns an ear to you.",
			"uneasy": "Its quarters come round at you again and again, ears flat; it cannot keep still.",
			"unsafe": "It wheels and lets fly with both hind feet at the door before you have touched the bolt.",
		},
		"demeanour": {
			"bright":       "Ears turn to each sound; it looks at you, then at the bucket.",
			"quiet":        "It stands still and takes little interest, yet flicks an ear and lifts its head when spoken to.",
			"dull":         "Head low, lids half shut; it takes some seconds and a second word before an ear moves.",
			"restless":     "It walks to the door and back, cannot settle, whinnies, walks again.",
			"distressed":   "Wild eye, wet coat; it throws itself about as if nobody were there.",
			"unresponsive": "You clap, then touch it: no ear, no eye, nothing moves.",
			"seizure":      "It walks the same ring round and round, then leans its forehead hard against the wall.",
			"down":         "It lies on its side. Urged, it lifts its head, tries with the forelegs and sinks back.",
		},
		"posture": {
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
		"gait.look": {
			"even":    "Four equal beats on the concrete, head level, each toe set down in line.",
			"stiff":   "It patters: each stride half of what you expect, on all turns.",
			"lame":    "Its head nods down with every second stride on the way to the trough.",
			"sways":   "The hind end wanders left and right; a toe scrapes, the fetlock knuckles.",
			"refuses": "The rope tightens, it groans, and not one foot leaves the ground.",
		},
	}
}

func sightsCondition() map[exam.StepID]map[string]string {
	return map[exam.StepID]map[string]string{
		"condition.score": {
			"1": "Spines, ribs, tailhead and hips stand out sharp; your fingers find nothing soft between.",
			"2": "Spines, ribs and tail stand out under a covering that you can barely pinch.",
			"3": "You can count the ribs from the gate; at the tail the separate bones no longer show.",
			"4": "A low crest of spine runs along the loin; the faint line of ribs shows as it turns.",
			"5": "The loin is flat across; your hand finds each rib at once, your eye none.",
			"6": "A slight crease along the loin; a spongy layer over the ribs; the tail's root yields.",
			"7": "Each rib is found with some pressing, the spaces between them filled level.",
			"8": "You press hard to find any rib; the loin has a furrow; the neck is thick.",
			"9": "A furrow you could lay your arm in, pads over the ribs that shake, bulging round the tail.",
		},
		"neck.crest": {
			"0": "Your fingers meet over the edge of the neck: mane, skin, and the thin cord beneath.",
			"1": "The outline is straight; between finger and thumb there is a little padding.",
			"2": "A low roll runs the whole length of the mane; you can hold it and rock it over and back.",
			"3": "Half-way along, the roll is so high that your palm is full; it hardly rocks.",
			"4": "Your hand cannot close over it and it does not give; folds cross it.",
			"5": "The roll hangs over like a wave and does not come upright when you lift it.",
		},
		"belly.distension": {
			"none":     "From behind, both flanks fall away alike in a gentle curve.",
			"slight":   "From behind, the flanks are a little fuller than the keeper is used to.",
			"moderate": "From behind, the hollow of the flank is filled out and the ribs look sprung.",
			"severe":   "The flanks stand out past the ribs; flicked with a finger they ring, nothing gives.",
			"tucked":   "The line of the belly runs steeply up to the stifle like a greyhound's.",
			"swollen":  "A flat pad hangs along the midline from girth to sheath or udder; a finger leaves a dent.",
		},
		"navel": {
			"dry":      "A shrivelled brown twig, or skin grown over it; nothing on your glove.",
			"fresh":    "A hand's breadth of wet grey cord, cool, narrow as a pencil.",
			"bleeding": "Drop after drop of red from the end of the cord.",
			"swollen":  "As wide as two thumbs, skinless, and the colour of raw meat.",
			"pus":      "Warm in the glove; the foal flinches and cream-coloured matter comes at the tip.",
			"wet":      "The hair round it is soaked; a thin stream runs as the foal stales.",
			"hernia":   "An egg under the skin that slips back into the belly as you press, two fingers wide.",
		},
	}
}

// sightsOfTheFace are what the eye gets of each sign of the face where it scores 0, 1 and 2.
func sightsOfTheFace() map[string][3]string {
	return map[string][3]string{
		"ears":     {"Ears swing to each sound.", "The ears stand a little back, their tips apart.", "Both ears are held stiffly back, the tips far apart."},
		"lids":     {"The eye is round.", "The upper lid hangs a little low.", "The eye is a slit."},
		"brow":     {"Over it the skin is smooth.", "Over it an edge of bone begins to show.", "Over it the bone is sharp, the skin in folds."},
		"jaw":      {"The cheek is loose.", "The cheek is firm, its edge just seen.", "The cheek is one hard ridge."},
		"mouth":    {"Lips and chin hang soft.", "The upper lip is tucked in a little.", "The upper lip is pulled back, the chin a knot."},
		"nostrils": {"The nose is soft at the rim.", "The rim of the nose looks a little stiff.", "The rim of the nose is wide and stiff, its line straight."},
	}
}
