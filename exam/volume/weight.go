package volume

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Limits of a weight that is used without a question.
const (
	// OldDays is the age from which a weight is asked about; common practice.
	OldDays = 60
	// MovedPercent is the change from the weight before that is asked about; our own.
	MovedPercent = 20
)

// Weight is a body weight with where it comes from.
type Weight struct {
	Kg            float64
	AsTyped       notation.Quantity // for the working; may be empty
	Method        exam.WeighMethod  // empty: not said
	LowKg, HighKg float64           // published error of the method; 0: not known
	AgeDays       float64           // since it was found
	BeforeKg      float64           // the weight before it; 0: none
	Reads         notation.Quantity // as the person reads it who works in another unit; empty: as typed
}

// As is the weight as a person reads it; what it is worked out with does not change.
func (w Weight) As(units notation.Units) Weight {
	if q := units.Of(w.AsTyped); q.Unit != w.AsTyped.Unit {
		w.Reads = q
	}
	return w
}

// Text is the weight with its unit, as it stands in a form before anybody changed it.
func (w Weight) Text() string {
	if w.Reads.Unit != notation.NoUnit {
		return w.Reads.Text(1)
	}
	return w.AsTyped.Text(1)
}

// possibleKg refuses what no horse weighs: the bounds of the weight step.
func possibleKg(kg float64) error {
	if kg >= 3 && kg <= 1600 {
		return nil
	}
	return &notation.Refusal{Why: fmt.Sprintf("a body weight of %s kg is not possible (3 to 1600 kg)", Plain(kg))}
}

// Warnings says what a person should know before the weight carries a dose, a limit or a volume: that it is a guess by
// eye, old, or far from the one before.
func (w Weight) Warnings() []Warning {
	var out []Warning
	if w.Method == exam.WeightEye {
		out = append(out, Warning{ByEye, "the weight is a guess by eye. Guesses are 12 % low on average, with a spread of 20 % " +
			"(Ellis & Hollands, Vet Rec 1998;143:335). Weigh or measure first if possible"})
	}
	if w.AgeDays > OldDays {
		out = append(out, Warning{OldWeight, fmt.Sprintf("the weight is %.0f days old, more than %d; weigh again", w.AgeDays, OldDays)})
	}
	if usable(w.BeforeKg) {
		change := (w.Kg - w.BeforeKg) / w.BeforeKg * 100
		if change > MovedPercent || change < -MovedPercent {
			out = append(out, Warning{MovedWeight, fmt.Sprintf("the weight is %s %% from the one before (%s kg). Check kg and lb, then weigh again",
				signed(change), Plain(w.BeforeKg))})
		}
	}
	return out
}

func signed(v float64) string {
	if v > 0 {
		return "+" + Plain(v)
	}
	return Plain(v)
}
