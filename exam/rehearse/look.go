package rehearse

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
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

// Percept is what the hand, eye or ear gets at a place. It never holds the answer's own words.
type Percept struct {
	Sense exam.Sense
	Words string
	// Told is what is heard besides, in words, for whoever does not hear it; empty where Words are all, or where what is
	// heard comes from moment to moment.
	Told   string
	Events []Event
	Listen exam.Listen
}

// Look answers an examination of a place. trial says how often the place was looked at before, from 0: times differ a
// little from trial to trial. Where there is nothing to be had it says so in words.
func (h *Horse) Look(k exam.Key, trial int) Percept {
	step, ok := h.table.ByID(k.Step)
	if !ok || !step.HasSite(k.Site) {
		return Percept{Sense: exam.ByEye, Words: "There is nothing to be had here."}
	}
	seen := Percept{Sense: step.Sense, Listen: step.Listen}
	switch {
	case k.Site == exam.Overall:
		seen.Words = "Go from one to the next: each answers for itself."
	case step.Kind == exam.KindNote || step.Kind == exam.KindCount:
		seen.Words = step.Shows.While
	case step.Kind == exam.KindEvent:
		seen.Words = h.card(k)
	case step.Kind == exam.KindNumber || step.Kind == exam.KindWeight:
		h.measured(&seen, step)
	case step.Kind == exam.KindTime:
		h.timed(&seen, step, trial)
	default:
		seen.Words = h.described(k)
	}
	if step.Sense == exam.ByEar && step.Kind != exam.KindCount && step.Shows.While != "" && k.Site != exam.Overall {
		seen.Words, seen.Told = step.Shows.While, seen.Words
		if step.Shows.Moments {
			seen.Told = ""
		}
	}
	if own, ok := h.Case.Seen[k]; ok {
		seen.Words, seen.Told = own, ""
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
	text := notation.Capital(h.Case.Reason) + "."
	for _, s := range h.Context.States {
		if s == exam.StateRest && h.Class.Young {
			text += " The two have been left alone since."
			continue
		}
		text += " " + said[s]
	}
	return text + h.toldMilestones()
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
