package steps

import "loosebox/exam"

func foal() []exam.Step {
	return []exam.Step{navel()}
}

func navel() exam.Step {
	return exam.Step{
		ID: "navel", Name: "Navel", Short: "navel",
		System: exam.SystemFoal, Kind: exam.KindPick, Asked: exam.AskedOfFoals,
		Choices: []exam.Choice{
			usual("dry", "dry stump or scab, or healed", ""),
			usual("fresh", "moist string, first hours", ""),
			tell("bleeding", "bleeds", "", "A navel that goes on bleeding is told at once.", memory()),
			tell("swollen", "raw, red or swollen", "", "A raw, red or swollen navel is a reason to call at once.", published("AQHA")),
			tell("pus", "hot, sore, or pus", "", "Heat, pain or pus at the navel is told at once.", published("LAMB")),
			tell("wet", "stays wet, urine comes from it", "", "Urine at the navel is a reason to call at once.", published("AQHA")),
			recheck("hernia", "soft bulge that can be pushed in", "", "A bulge goes to the hand-off with its width in fingers.", memory()),
		},
		Usual: []string{"dry"},
		How: []string{
			"Foal held steady, one arm round the chest, one behind; look, then feel.",
			"Dry by one to two days. Clean gloves; note the width if it is thick.",
		},
		Caution: "Never stand between mare and foal; hold the mare where she sees it.",
	}
}
