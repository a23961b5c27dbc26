package rehearse

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
)

// measured fills in what an instrument shows, or what there is to add up.
func (h *Horse) measured(seen *Seen, step exam.Step) {
	v := h.truth[exam.Key{Step: step.ID}]
	if v.Number == nil {
		seen.Words = "There is nothing to be had here."
		return
	}
	switch step.ID {
	case "temp.rectal":
		seen.Words = "The thermometer is in, its tip against the wall; it has not beeped yet."
		for _, at := range []struct{ after, below float64 }{{3, 2.6}, {7, 1.1}, {11, 0.4}} {
			q := exam.Quantity{Value: math.Round((v.Number.Value-at.below)*10) / 10, Unit: exam.Celsius}
			seen.Events = append(seen.Events, Event{at.after, Display, both(q, exam.Fahrenheit)})
		}
		seen.Events = append(seen.Events, Event{15, Done, "beep: " + both(*v.Number, exam.Fahrenheit)})
	case "height.withers", "neck.girth":
		seen.Words = "The tape shows " + both(*v.Number, exam.Inch) + "."
	case "weight.body":
		seen.Words = "The yard's scale shows " + both(*v.Number, exam.Pounds) + "."
	case "pain.grimace":
		seen.Words = h.face(v, step)
	default:
		seen.Words = "It shows " + v.Number.Text(step.Decimals) + "."
	}
}

// both shows a quantity in its own unit and in the other.
func both(q exam.Quantity, other exam.Unit) string {
	o, ok := q.In(other)
	if !ok {
		return q.Text(1)
	}
	return fmt.Sprintf("%s (%s)", q.Text(1), o.Text(1))
}

// face tells the six signs of the face as they were dealt, in words that are not those of the signs or their scores.
func (h *Horse) face(v exam.Value, step exam.Step) string {
	all, parts := sightsOfTheFace(), make([]string, len(step.Parts.List))
	for i, p := range step.Parts.List {
		parts[i] = all[p.Key][int(v.Parts[p.Key])]
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
func (h *Horse) timed(seen *Seen, step exam.Step, trial int) {
	v := h.truth[exam.Key{Step: step.ID}]
	if v.Number == nil {
		return
	}
	r := h.Origin.random(fmt.Sprintf("trial %s %d", step.ID, trial))
	s := math.Round(v.Number.Value*between(r, 0.95, 1.05)*100) / 100
	seen.Words = "Your thumb is on the gum."
	pale, back := "a light print where the thumb was", "the print is gone"
	if step.ID == "skin.tent" {
		seen.Words = "You hold a fold at the point of the shoulder."
		pale, back = "the fold stands", "the skin lies flat"
	}
	seen.Events = []Event{{0, Pale, pale}, {s, Back, back}}
}
