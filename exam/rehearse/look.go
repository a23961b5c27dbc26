package rehearse

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"loosebox/exam"
)

// Sense says what takes the finding in.
type Sense string

// The senses.
const (
	ByEye  Sense = "eye"
	ByEar  Sense = "ear"
	ByHand Sense = "hand"
)

// Listen says what a screen draws, and a player plays, while the step is open.
type Listen string

// What there is to listen to or to watch.
const (
	ListenNone   Listen = ""
	ListenHeart  Listen = "heart"
	ListenBreath Listen = "breath"
	ListenGut    Listen = "gut"
)

// EventKind says what happens while the examiner looks.
type EventKind string

// The kinds of event.
const (
	Display EventKind = "display" // the thermometer shows a figure
	Done    EventKind = "done"    // it beeps; the figure stands
	Pale    EventKind = "pale"    // the thumb is lifted, or the fold let go
	Back    EventKind = "back"    // the colour is back, or the fold is flat
)

// Event is something that shows so many seconds after the look began; for a time step after the letting go.
type Event struct {
	AfterS float64   `json:"after_s"`
	Kind   EventKind `json:"kind"`
	Words  string    `json:"words"`
}

// Seen is what the hand, eye or ear gets at a place. It never holds the answer's own words.
type Seen struct {
	Sense  Sense
	Words  string
	Events []Event
	Listen Listen
}

// Look answers an examination of a place. trial says how often the place was looked at before, from 0: times differ a
// little from trial to trial. Where there is nothing to be had it says so in words.
func (h *Horse) Look(k exam.Key, trial int) Seen {
	step, ok := h.table.ByID(k.Step)
	if !ok || !step.HasSite(k.Site) {
		return Seen{Sense: ByEye, Words: "There is nothing to be had here."}
	}
	seen := Seen{Sense: senseOf(step), Listen: listenTo(step)}
	switch {
	case k.Site == exam.Overall:
		seen.Words = "Go from one to the next: each answers for itself."
	case step.Kind == exam.KindNote:
		seen.Words = "You look round once more: nothing that no step asked."
	case step.Kind == exam.KindCount:
		seen.Words = watching(step)
	case step.Kind == exam.KindNumber || step.Kind == exam.KindWeight:
		h.measured(&seen, step)
	case step.Kind == exam.KindTime:
		h.timed(&seen, step, trial)
	default:
		seen.Words = h.described(k)
	}
	if own, ok := h.Case.Seen[k]; ok {
		seen.Words = own
	}
	return seen
}

// Told is what the keeper says at the door: why the horse is seen, and what went on in the last half hour.
func (h *Horse) Told() string {
	said := map[exam.State]string{
		exam.StateRest:      "It has been standing in its box since morning.",
		exam.StateWorked:    "I got off it a quarter of an hour ago.",
		exam.StateExcited:   "The tractor set it off just before you came.",
		exam.StateTravelled: "It came off the lorry twenty minutes ago.",
		exam.StateHot:       "It is as close as an oven in here today.",
	}
	text := upper(h.Case.Reason) + "."
	for _, s := range h.Context.States {
		text += " " + said[s]
	}
	return text
}

// upper makes the first letter a capital.
func upper(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[size:]
}

func watching(step exam.Step) string {
	if step.Heard == "breath" {
		return "You stand outside the box and watch the flank."
	}
	return "The chest piece lies behind the left elbow: lub-dub is one beat."
}

// described joins the sights of the words that are true of a place.
func (h *Horse) described(k exam.Key) string {
	var parts []string
	for _, key := range h.truth[k].Words {
		parts = append(parts, h.sight[k.Step][key])
	}
	if len(parts) == 0 {
		return "There is nothing to be had here."
	}
	return strings.Join(parts, " ")
}

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

// senseOf says by which sense a step is answered.
func senseOf(step exam.Step) Sense {
	switch step.ID {
	case "heart.rate", "heart.rhythm", "heart.murmur", "lung.sounds", "gut.sounds", "cough":
		return ByEar
	case "pulse.strength", "gum.moisture", "node.jaw", "limb.warmth", "hoof.heat", "limb.digitalpulse", "limb.look",
		"skin.look", "condition.score", "navel":
		return ByHand
	}
	return ByEye
}

func listenTo(step exam.Step) Listen {
	switch step.ID {
	case "heart.rate", "heart.rhythm", "heart.murmur":
		return ListenHeart
	case "breath.rate", "breath.effort", "lung.sounds":
		return ListenBreath
	case "gut.sounds":
		return ListenGut
	}
	return ListenNone
}
