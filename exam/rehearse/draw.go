package rehearse

import (
	"fmt"
	"math"
	"math/rand/v2"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// draw makes the truth of one place: what the case gives, or what is usual for the class.
func (h *Horse) draw(step exam.Step, k exam.Key) (exam.Value, error) {
	r := h.Origin.random("truth " + string(k.Step) + " " + string(k.Site))
	if g, ok := h.Case.Given[k]; ok {
		if !g.Spread {
			return g.Value, nil
		}
		return number(step, between(r, g.Low, g.High)), nil
	}
	switch step.Kind {
	case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
		low, high, err := h.usual(step)
		if err != nil {
			return exam.Value{}, err
		}
		return number(step, inside(r, low, high)), nil
	case exam.KindEvent:
		return h.event(step), nil
	case exam.KindScale, exam.KindPick, exam.KindMarks, exam.KindNote:
	}
	if word := step.Shows.Newborn; word != "" && h.newborn() {
		return step.ChoiceValue(word)
	}
	if words := step.Shows.Healthy; len(words) > 0 {
		return step.ChoiceValue(words[r.IntN(len(words))])
	}
	if v, ok := step.UsualValue(); ok {
		v.Usual = false
		return v, nil
	}
	return exam.Value{}, fmt.Errorf("nothing usual is held for %s", step.ID)
}

// usual gives the span that a healthy horse of the class is drawn from.
func (h *Horse) usual(step exam.Step) (low, high float64, err error) {
	row, ok := h.held.Lookup(step.Range, h.Class.Name, ranges.Unit(step.Unit))
	shows := step.Shows
	switch {
	case ok:
	case shows.Span != nil:
		span := shows.Span(h.Class.Name)
		return span.Low, span.High, nil
	case shows.Share.Of != "":
		of, _ := h.truth[exam.Key{Step: shows.Share.Of}].In(step.Unit)
		return shows.Share.From.Low * of, shows.Share.From.High * of, nil
	default:
		return 0, 0, fmt.Errorf("the case %s must give %s: nothing usual is held for a %s", h.Case.Name, step.ID, h.Class.Name)
	}
	low, okLow := row.Usual.Edge(ranges.SideLow)
	high, okHigh := row.Usual.Edge(ranges.SideHigh)
	if !okLow && !okHigh { // no usual range was read: well under where it is taken again
		high, okHigh = row.Recheck.Edge(ranges.SideHigh)
		high *= 0.8
	}
	if !okLow {
		low = high / 2
	}
	if !okHigh {
		high = 2 * low
	}
	return low, high, nil
}

// inside draws from the middle four fifths of a span, so that a healthy horse is not on the edge of its range.
func inside(r *rand.Rand, low, high float64) float64 {
	edge := float64((high - low) * 0.1)
	return between(r, low+edge, high-edge)
}

// number is a value rounded to what the step shows.
func number(step exam.Step, v float64) exam.Value {
	f := math.Pow10(step.Decimals)
	q := notation.Quantity{Value: math.Round(v*f) / f, Unit: step.Unit}
	out := exam.Value{Kind: step.Kind, Number: &q}
	if step.Kind == exam.KindTime {
		out.TrialsS = []float64{q.Value}
	}
	return out
}
