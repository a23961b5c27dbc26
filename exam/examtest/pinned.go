package examtest

import (
	"slices"
	"sync"

	"loosebox/exam"
	"loosebox/exam/steps"
	"loosebox/ranges/words"
)

// pinned are the steps that drawn screens, pages and their counters ("2 of 59") stand on. A step that is added to the
// program is not among them, so that it changes no drawn screen; it is entered here only for a screen that shows it.
func pinned() []exam.StepID {
	return []exam.StepID{
		"approach", "demeanour", "posture", "condition.score", "neck.crest", "height.withers", "neck.girth", "temp.rectal", "weight.body",
		"heart.rate", "heart.rhythm", "heart.murmur", "pulse.strength", "gum.colour", "gum.moisture", "gum.refill", "jugular.fill",
		"breath.rate", "breath.effort", "lung.sounds", "gut.sounds", "belly.distension", "skin.look", "skin.tent",
		"eye.look", "nose.discharge", "cough", "node.jaw", "mouth.look", "gait.look", "limb.look", "limb.warmth", "hoof.heat", "limb.digitalpulse",
		"manure", "urine", "udder.sheath", "pain.signs", "pain.grimace",
		"foal.breast", "foal.suck", "foal.stand", "foal.nurse", "foal.afterbirth", "foal.meconium", "foal.urine", "navel", "note",
	}
}

// Steps is the program's table of steps without those that are not pinned. Tests ask for it at every finding, so that in
// English it is made once; nobody changes it.
func Steps() *exam.Steps {
	if words.InEnglish() {
		return inEnglish()
	}
	return pinnedSteps()
}

var inEnglish = sync.OnceValue(pinnedSteps)

func pinnedSteps() *exam.Steps {
	return exam.NewSteps(slices.DeleteFunc(slices.Clone(steps.Table().All()), func(s exam.Step) bool { return !slices.Contains(pinned(), s.ID) }))
}

// Routines are the program's routines without the steps that are not pinned.
func Routines() []exam.Routine {
	all := steps.Routines()
	for i := range all {
		var kept []exam.Ask
		heading := ""
		for _, a := range all[i].Asks {
			if a.Heading != "" {
				heading = a.Heading
			}
			if slices.Contains(pinned(), a.Step) {
				a.Heading, heading = heading, ""
				kept = append(kept, a)
			}
		}
		all[i].Asks = kept
	}
	return all
}
