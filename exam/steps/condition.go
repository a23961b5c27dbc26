package steps

import "loosebox/exam"

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
		Parts: ConditionParts(),
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
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
			Healthy: []string{"4", "5", "6"},
		},
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
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"0": "Your fingers meet over the edge of the neck: mane, skin, and the thin cord beneath.",
				"1": "The outline is straight; between finger and thumb there is a little padding.",
				"2": "A low roll runs the whole length of the mane; you can hold it and rock it over and back.",
				"3": "Half-way along, the roll is so high that your palm is full; it hardly rocks.",
				"4": "Your hand cannot close over it and it does not give; folds cross it.",
				"5": "The roll hangs over like a wave and does not come upright when you lift it.",
			},
			Healthy: []string{"0"},
		},
		How: []string{
			"Cup the crest half-way along the neck, head level; bend it sideways.",
			"It is higher at the end of winter than of summer. Same hand, same side.",
		},
		Caution: "Stand at the shoulder, not in front; the head can come round.",
	}
}

// areas lists the six areas where condition is felt, from neck to tail; the hint
// says what the hand looks for.
func areas() []exam.Part {
	return []exam.Part{
		{Key: "neck", Words: "neck", Hint: "along the crest: how thick is what lies above the bones?"},
		{Key: "withers", Words: "withers", Hint: "beside the withers: do they stand out or are they filled?"},
		{Key: "shoulder", Words: "behind the shoulder", Hint: "does the shoulder run smoothly into the body, or stand out?"},
		{Key: "ribs", Words: "ribs", Hint: "flat hand across: seen, felt at once, under fat, hard to find?"},
		{Key: "loin", Words: "loin", Hint: "over the spines of the loin: a ridge, level, or a groove?"},
		{Key: "tailhead", Words: "tailhead", Hint: "around the root of the tail: bone, spongy, soft, bulging?"},
	}
}

// ConditionParts says how condition is scored by areas: each from 1 to 9, halves
// taken, and their mean to the nearest half.
func ConditionParts() exam.Parts {
	return exam.Parts{List: areas(), Noun: "area", Says: "1 poor, 5 moderate, 9 extremely fat", Score: exam.Span{Low: 1, High: 9}, Halves: true, Mean: true}
}
