package rehearse

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// measured fills in what an instrument shows, or what there is to add up.
func (h *Horse) measured(seen *Percept, step exam.Step) {
	v := h.truth[exam.Key{Step: step.ID}]
	if v.Number == nil {
		seen.Words = "There is nothing to be had here."
		return
	}
	switch {
	case len(step.Parts.List) > 0 && len(v.Parts) > 0:
		seen.Words = h.face(v, step)
	case step.SlowSeconds > 0: // a thermometer that climbs
		seen.Words = step.Shows.While
		for _, at := range []struct{ after, below float64 }{{3, 2.6}, {7, 1.1}, {11, 0.4}} {
			q := notation.Quantity{Value: math.Round((v.Number.Value-at.below)*10) / 10, Unit: notation.Celsius}
			seen.Events = append(seen.Events, Event{at.after, Display, both(q, step.Shows.Also)})
		}
		seen.Events = append(seen.Events, Event{15, Done, "beep: " + both(*v.Number, step.Shows.Also)})
	default:
		seen.Words = strings.ReplaceAll(step.Shows.While, "%s", both(*v.Number, step.Shows.Also))
	}
}

// both shows a quantity in its own unit and in the other, where there is one.
func both(q notation.Quantity, other notation.Unit) string {
	o, ok := q.In(other)
	if !ok || other == notation.NoUnit {
		return q.Text(1)
	}
	return fmt.Sprintf("%s (%s)", q.Text(1), o.Text(1))
}

// face tells the parts of a score as they were dealt, in words that are not those of the parts or their points.
func (h *Horse) face(v exam.Value, step exam.Step) string {
	parts := make([]string, len(step.Parts.List))
	for i, p := range step.Parts.List {
		parts[i] = step.Shows.Parts[p.Key][int(v.Parts[p.Key]-step.Parts.Score.Low)]
	}
	return strings.Join(parts, " ")
}

// deal gives the points of a total out to the parts of its step.
func (h *Horse) deal(step exam.Step, total float64) (exam.Value, error) {
	list := step.Parts.List
	points := map[string]float64{}
	for _, p := range list {
		points[p.Key] = step.Parts.Score.Low
	}
	r := h.Origin.random("face")
	for left := min(total, step.Parts.Score.High*float64(len(list))); left >= 1; {
		if key := list[r.IntN(len(list))].Key; points[key] < step.Parts.Score.High {
			points[key]++
			left--
		}
	}
	return step.PartsValue(points)
}

// timed fills in the two moments between which a time step is pressed. Trials differ by up to 5 % (assumed).
func (h *Horse) timed(seen *Percept, step exam.Step, trial int) {
	v := h.truth[exam.Key{Step: step.ID}]
	if v.Number == nil {
		return
	}
	r := h.Origin.random(fmt.Sprintf("trial %s %d", step.ID, trial))
	s := math.Round(v.Number.Value*between(r, 0.95, 1.05)*100) / 100
	seen.Words = step.Shows.While
	seen.Events = []Event{{0, Pale, step.Shows.Begin}, {s, Back, step.Shows.End}}
}
