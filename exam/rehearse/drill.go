package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
)

// drillMark begins the name of the routine of a drill; the step's identity follows.
const drillMark = "drill "

// OrderDrill is the name of the drill of the order: which place round the horse comes next; nothing is examined in it.
const OrderDrill = drillMark + "order"

// drillS is how long a drill lasts, in seconds: three minutes.
const drillS = 180

// DrillModes are the modes in which a routine is rehearsed: a drill shows its clock, and that of the order is blind.
func DrillModes(routine string, m Modes) Modes {
	m.Timed = m.Timed || IsDrill(routine)
	m.Blind = m.Blind || routine == OrderDrill
	return m
}

// LimitS is how many seconds a drill lasts; 0 for any other routine. It is three minutes, or twice what the sense takes at
// each place with a few steps between, where that is more: a quadrant of the gut is listened to for a minute.
func (h *Horse) LimitS(routine exam.Routine) float64 {
	if !IsDrill(routine.Name) {
		return 0
	}
	const between = 20.0
	needs := 0.0
	for _, ask := range routine.Asks {
		for _, k := range ask.Keys() {
			if v, ok := h.Truth(k); ok && routine.Name != OrderDrill {
				needs += 2*h.NeedOf(k, v).Seconds + between
			}
		}
	}
	return max(drillS, needs)
}

// DrillName is the name under which a drill of a step is stored.
func DrillName(step exam.StepID) string { return drillMark + string(step) }

// IsDrill says that a routine is a drill: nothing is handed off after it.
func IsDrill(routine string) bool { return strings.HasPrefix(routine, drillMark) }

// Drill is the routine of a drill by its name: the stops of the full exam at which its step is asked, or the step at all
// its sites. False where the name is that of no drill, or of no step that can be drilled.
func Drill(name string, table *exam.Steps, routines []exam.Routine) (exam.Routine, bool) {
	if name == OrderDrill {
		return drillOfOrder(routines)
	}
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

// drillOfOrder asks for the first step of each place round the horse, in the order of the first routine.
func drillOfOrder(routines []exam.Routine) (exam.Routine, bool) {
	out := exam.Routine{Name: OrderDrill, Title: "Drill: order", About: "which place comes next; nothing is examined"}
	if len(routines) == 0 {
		return out, false
	}
	for _, ask := range routines[0].Asks {
		if ask.Heading != "" {
			out.Asks = append(out.Asks, ask)
		}
	}
	return out, len(out.Asks) > 1
}

// Drills are the names of the drills that are offered.
func Drills() []string {
	out := []string{OrderDrill}
	for _, id := range Drillable() {
		out = append(out, DrillName(id))
	}
	return out
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
