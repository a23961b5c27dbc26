package weight

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges/words"
)

// Omission is an equation made for the animal that could not be computed.
type Omission struct {
	Equation Equation
	Missing  []Measure // measures not taken
	Trap     bool      // the length was taken another way
	Why      string
}

// LeftOut lists the equations made for this animal that these measures do not
// allow, and why: a measure not taken, or a length taken another way.
func LeftOut(a Animal, m Measures) []Omission {
	var out []Omission
	for _, e := range Fitting(a) {
		_, err := e.Kg(m)
		if err == nil {
			continue
		}
		o := Omission{Equation: e, Why: err.Error()}
		if refusal := (*notation.Refusal)(nil); errors.As(err, &refusal) {
			o.Why = refusal.Why
		}
		for _, need := range e.Needs {
			if _, ok := m.Cm(need); !ok {
				o.Missing = append(o.Missing, need)
			}
		}
		o.Trap = len(o.Missing) == 0 && slices.Contains(e.Needs, Length) && !slices.Contains(e.LengthFrom, m.LengthFrom)
		if len(o.Missing) > 0 {
			o.Why = fmt.Sprintf("%s also needs: %s", e.ID, joined(o.Missing))
		}
		out = append(out, o)
	}
	return out
}

func joined(measures []Measure) string {
	return words.Join(measures)
}

// firstTrap is the first omission that only the way of the length caused.
func firstTrap(out []Omission) (Omission, bool) {
	for _, o := range out {
		if o.Trap {
			return o, true
		}
	}
	return Omission{}, false
}

// nearest is the omission with the fewest measures missing.
func nearest(out []Omission) Omission {
	return slices.MinFunc(out, func(x, y Omission) int { return len(x.Missing) - len(y.Missing) })
}

func nothingComputed(a Animal, out []Omission) error {
	if o, ok := firstTrap(out); ok {
		return &notation.Refusal{Why: o.Why, Meant: "a length taken " + o.Equation.LengthDef}
	}
	if len(out) > 0 {
		return &notation.Refusal{Why: "no weight can be worked out from these measurements: " + nearest(out).Why}
	}
	return &notation.Refusal{Why: whyNone(a, out)}
}

// whyNone says why none of the computed estimates is chosen.
func whyNone(a Animal, out []Omission) string {
	if o, ok := firstTrap(out); ok {
		return "none chosen: " + o.Why
	}
	switch {
	case len(out) > 0:
		return "none chosen: " + nearest(out).Why
	case a.Kind == exam.AnimalMiniature:
		return "none chosen: the equations for miniatures (Catalano et al. 2019) are not held, and others read 5 to 25 % off; use a scale"
	}
	return fmt.Sprintf("none chosen: no equation held was made for an animal of this kind, age and size (%s); use a scale", a.Words())
}

// whyChosen says why the first estimate is chosen, what a better one still
// needs, and what gives cause to doubt it.
func whyChosen(all []Estimate, m Measures, out []Omission) string {
	first := all[0]
	why := fmt.Sprintf("%s: it was made for %s", first.Equation.ID, first.Equation.For)
	if first.Equation.Evidence == fromMemory {
		why += " (a constant of it is from memory)"
	}
	parts := []string{why + before(all)}
	if first.Band.Bias != "" {
		parts = append(parts, first.Band.Bias)
	}
	if better := slices.DeleteFunc(slices.Clone(out), func(o Omission) bool {
		return o.Equation.rank >= first.Equation.rank
	}); len(better) > 0 {
		parts = append(parts, "better for this animal: "+nearest(better).Why)
	}
	parts = append(parts, doubts(m)...)
	for _, other := range all[1:] {
		if other.Fits && math.Abs(other.Kg-first.Kg) > 0.15*first.Kg {
			parts = append(parts, fmt.Sprintf("%s, also made for it, says %.0f kg. The two differ by more than 15 %%: use a scale if possible",
				other.Equation.ID, other.Kg))
			break
		}
	}
	return strings.Join(parts, "; ")
}

// before says why the first estimate stands before the next one that was made for the animal too.
func before(all []Estimate) string {
	if len(all) < 2 || !all[1].Fits {
		return ""
	}
	first, next := all[0].Equation, all[1].Equation
	wide := func(est Estimate) float64 { return est.HighKg/est.Kg - est.LowKg/est.Kg }
	switch {
	case len(first.Needs) > len(next.Needs):
		return ", and uses more measures than " + next.ID
	case first.Evidence != fromMemory && next.Evidence == fromMemory:
		return fmt.Sprintf(", and is published, while %s is from memory", next.ID)
	case wide(all[0]) < wide(all[1]):
		return ", and reads nearer to the scale than " + next.ID
	case len(first.on.breeds) > 0 && len(next.on.breeds) == 0:
		return ", and for a closer group than " + next.ID
	}
	return ""
}

// doubts are possible measures that are odd beside each other. The limits are
// our own.
func doubts(m Measures) []string {
	var out []string
	if m.GirthCm > 0 && m.GirthAgainCm > 0 {
		if apart := math.Abs(m.GirthCm-m.GirthAgainCm) / max(m.GirthCm, m.GirthAgainCm) * 100; apart > 3 {
			out = append(out, fmt.Sprintf("the two girths differ by %.0f %%, which is %.0f %% of the weight: measure again", apart, 2*apart))
		}
	}
	girth, ok := m.Cm(Girth)
	if !ok || m.LengthCm == 0 {
		return out
	}
	switch ratio := m.LengthCm / girth; {
	case m.LengthFrom == FromElbow && ratio > 0.95:
		out = append(out, "the length is long for one from the elbow: was it taken from the shoulder?")
	case m.LengthFrom != FromElbow && m.LengthFrom != FromUnsaid && ratio < 0.72:
		out = append(out, "the length is short for one from the shoulder: was it taken from the elbow?")
	}
	return out
}
