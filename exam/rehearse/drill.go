package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
)

// drillMark begins the name of the routine of a drill; the step's identity follows.
const drillMark = "drill "

// DrillName is the name under which a drill of a step is stored.
func DrillName(step exam.StepID) string { return drillMark + string(step) }

// IsDrill says that a routine is a drill: nothing is handed off after it.
func IsDrill(routine string) bool { return strings.HasPrefix(routine, drillMark) }

// Drill is the routine of a drill by its name: the stops of the full exam at which its step is asked, or the step at all
// its sites. False where the name is that of no drill, or of no step that can be drilled.
func Drill(name string, table *exam.Steps, routines []exam.Routine) (exam.Routine, bool) {
	id, ok := strings.CutPrefix(name, drillMark)
	step, known := table.ByID(exam.StepID(id))
	if !ok || !known || step.Kind == exam.KindNote {
		return exam.Routine{}, false
	}
	out := exam.Routine{Name: name, Title: "Drill: " + step.Short, About: "one step, on a horse you have not met"}
	for _, r := range routines {
		for _, ask := range r.Asks {
			if ask.Step == step.ID {
				ask.Heading = ""
				out.Asks = append(out.Asks, ask)
			}
		}
		if len(out.Asks) > 0 {
			break
		}
	}
	if len(out.Asks) == 0 {
		return exam.Routine{}, false
	}
	out.Asks[0].Heading = "drill"
	return out, true
}

// RoutineNamed finds a routine, or makes that of a drill.
func RoutineNamed(name string, table *exam.Steps, routines []exam.Routine) (exam.Routine, bool) {
	for _, r := range routines {
		if r.Name == name {
			return r, true
		}
	}
	return Drill(name, table, routines)
}

// Drillable are the steps that drills are offered of: counts, refill, gut, pulses, rhythm.
func Drillable() []exam.StepID {
	return []exam.StepID{"heart.rate", "breath.rate", "heart.rhythm", "gum.refill", "gut.sounds", "limb.digitalpulse", "lung.sounds"}
}

// CountCase is a case for a drill of a count at a set rate a minute. The error says that no such rate is possible.
func CountCase(step exam.StepID, perMin int, table *exam.Steps, read func(text string) (Case, error)) (Case, error) {
	s, ok := table.ByID(step)
	if !ok || s.Kind != exam.KindCount {
		return Case{}, exam.NoSuch("a rate is set for heart.rate or breath.rate only")
	}
	name := strings.ReplaceAll(string(step), ".", "-") + fmt.Sprintf("-%d", perMin)
	return read(fmt.Sprintf(`name: %s
title: A horse to count
about: one count, as often as you like
reason: to be counted
routine: tpr-recheck
horse:
  name: Bellis
  kind: horse
  age: 5 to 15 years
truth:
  %s: %d
teaching:
  - text: "Tap along until the figure stands still; the marks say how far you were off."
    source: TRADE
`, name, step, perMin))
}
