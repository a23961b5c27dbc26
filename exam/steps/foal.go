package steps

import "loosebox/exam"

func foal() []exam.Step {
	return append(milestones(), navel())
}

// milestones are what a newborn and its mare do by when: the times are held by
// the score package (WALKER, AUSTIN, AQHA, MIDR, IVIS).
func milestones() []exam.Step {
	const caution = "Never stand between mare and foal; watch from outside where you can."
	event := func(id exam.StepID, name, short string, asked exam.Asked, how ...string) exam.Step {
		return exam.Step{
			ID: id, Name: name, Short: short, System: exam.SystemFoal, Kind: exam.KindEvent, Asked: asked,
			Choices: exam.EventChoices(), How: how, Caution: caution,
			Sense: exam.ByEye,
			Shows: exam.Shows{Choices: map[string]string{ // the lines of the foaling card on the door
				exam.EventSeen:   "Somebody has written a time beside it on the card at the door.",
				exam.EventNotYet: "Its line on the card is empty, and whoever sat up shakes her head.",
			}},
		}
	}
	return []exam.Step{
		event("foal.breast", "Lies on its breast", "on its breast", exam.AskedOfNewborns,
			"When it first lay on its breast, head up, without being held.", "Type the time of day, or + and the minutes since the birth."),
		event("foal.suck", "Sucks at a finger", "sucks", exam.AskedOfNewborns,
			"When it first sucked at a clean finger in its mouth.", "Type the time of day, or + and the minutes since the birth."),
		event("foal.stand", "Stands", "stands", exam.AskedOfNewborns,
			"When it first stood by itself and stayed up, not held or lifted.", "Foals of larger breeds may be slower."),
		event("foal.nurse", "Nurses", "nurses", exam.AskedInFirstWeek,
			"When it first drank at the udder: swallowing seen or heard.", "Milk on its face and a tight udder speak against it."),
		event("foal.afterbirth", "Mare's afterbirth is out", "afterbirth", exam.AskedInFirstWeek,
			"When the whole afterbirth had come away by itself.", "Keep all of it for the veterinarian. Nobody pulls at what hangs."),
		event("foal.meconium", "Passes first manure", "first manure", exam.AskedInFirstWeek,
			"When the first dark manure came.", "Straining without any goes to the hand-off as a note."),
		event("foal.urine", "Passes urine", "first urine", exam.AskedInFirstWeek,
			"When it first passed water, and from where: note drops at the navel.", "Type the time of day, or + and the minutes since the birth."),
	}
}

func navel() exam.Step {
	return exam.Step{
		ID: "navel", Name: "Navel", Short: "navel",
		System: exam.SystemFoal, Kind: exam.KindPick, Asked: exam.AskedOfFoals,
		Choices: []exam.Choice{
			usual("dry", "dry stump or scab, or healed", ""),
			usual("fresh", "moist string, first hours", ""),
			tell("bleeding", "bleeds", "", "A navel that goes on bleeding is told at once.", memory()),
			tell("swollen", "raw, red or swollen", "", "A raw, red or swollen navel is a reason to call at once.", practice("AQHA")),
			tell("pus", "hot, sore, or pus", "", "Heat, pain or pus at the navel is told at once.", practice("LAMB")),
			tell("wet", "stays wet, urine comes from it", "", "Urine at the navel is a reason to call at once.", practice("AQHA")),
			recheck("hernia", "soft bulge that can be pushed in", "", "A bulge goes to the hand-off with its width in fingers.", memory()),
		},
		Usual: []string{"dry"},
		Sense: exam.ByHand,
		Shows: exam.Shows{
			Choices: map[string]string{
				"dry":      "A shrivelled brown twig, or skin grown over it; nothing on your glove.",
				"fresh":    "A hand's breadth of wet gray cord, cool, narrow as a pencil.",
				"bleeding": "Drop after drop of red from the end of the cord.",
				"swollen":  "As wide as two thumbs, skinless, and the color of raw meat.",
				"pus":      "Warm in the glove; the foal flinches and cream-coloured matter comes at the tip.",
				"wet":      "The hair round it is soaked; a thin stream runs as the foal urinates.",
				"hernia":   "An egg under the skin that slips back into the belly as you press, two fingers wide.",
			},
			Newborn: "fresh",
		},
		How: []string{
			"Foal held steady, one arm round the chest, one behind; look, then feel.",
			"Dry by one to two days. Clean gloves; note the width if it is thick.",
		},
		Caution: "Never stand between mare and foal; hold the mare where she sees it.",
	}
}
