package demo

import (
	"loosebox/exam"
)

// Played is the name of the horse whose exam the demo plays without a terminal.
const Played = "Juno"

// Script is what is typed at the plain prompts of a whole exam: an answer a
// place, in the order of the routine, then the word that closes the visit.
func Script(r exam.Routine, table *exam.Steps) []string {
	typed := map[exam.Key]string{
		{Step: "approach"}:                          "1",
		{Step: "temp.rectal"}:                       "100.6F",
		{Step: "heart.rate"}:                        "9 in 15",
		{Step: "breath.rate"}:                       "13 in 60",
		{Step: "weight.body"}:                       "405 kg",
		{Step: "condition.score"}:                   "5 5 5 5 5.5 5",
		{Step: "gum.refill"}:                        "1.3 1.5 1.4",
		{Step: "skin.tent"}:                         "1.0",
		{Step: "pain.grimace"}:                      "0 0 0 0 0 0",
		{Step: "gut.sounds", Site: exam.RightLower}: "reduced",
		{Step: "nose.discharge", Site: exam.Left}:   "usual",
		{Step: "hoof.heat", Site: exam.RightHind}:   "not done unsafe",
		{Step: "limb.warmth", Site: exam.RightHind}: "not done unsafe",
		{Step: "note"}:                              "stood well for her mouth today",
	}
	var lines []string
	for _, ask := range r.Asks {
		for _, k := range ask.Keys() {
			step, _ := table.ByID(k.Step)
			text, ok := typed[k]
			switch {
			case ok:
			case len(step.Usual) > 0:
				text = "usual"
			default:
				text = "not done not applicable"
			}
			lines = append(lines, text)
		}
	}
	return append(lines, "finish", exam.KnownAlready.String()) // the last is asked only where something is for the veterinarian
}
