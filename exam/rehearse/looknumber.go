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
	case "weight.body":
		seen.Words = "The yard's scale shows " + both(*v.Number, exam.Pounds) + "."
	case "pain.grimace":
		seen.Words = h.face(int(v.Number.Value))
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

// face deals the points of the grimace total out to its six areas, for the trainee to add up.
func (h *Horse) face(total int) string {
	areas := [6]string{"ears held back", "lids tightened", "tension above the eye", "chewing muscles", "mouth", "nostrils"}
	var points [6]int
	r := h.Origin.random("face")
	for left := min(total, 12); left > 0; {
		if i := r.IntN(6); points[i] < 2 {
			points[i]++
			left--
		}
	}
	parts := make([]string, len(areas))
	for i, name := range areas {
		parts[i] = name + ": " + []string{"not there", "somewhat", "plain"}[points[i]]
	}
	return strings.Join(parts, "; ") + "."
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
