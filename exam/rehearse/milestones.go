package rehearse

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
)

// Milestone is when a newborn foal, or its mare, did something, counted from the birth. Names are those of the score
// package, so that its clock can be set beside them.
type Milestone struct {
	Name  string
	After time.Duration
}

// newborn says that the first day's events are spoken of.
func (h *Horse) newborn() bool { return h.Animal.Kind == exam.AnimalHorse && h.Class.FirstWeek() }

// Milestones lists what a newborn has done so far, in the order in which it is due; none for any other horse. Times
// that the case does not give are drawn inside what is usual.
func (h *Horse) Milestones() []Milestone {
	if !h.newborn() {
		return nil
	}
	age := h.openedAt.Sub(h.Animal.Birth.At)
	var out []Milestone
	for _, m := range score.Milestones() {
		after, given := h.Case.Milestones[m.Name]
		if !given {
			r := h.Origin.random("milestone " + m.Name)
			after = time.Duration(between(r, 0.4, 0.9) * float64(m.Usual)).Truncate(time.Minute)
			after = max(after, time.Minute)
		}
		if after <= age {
			out = append(out, Milestone{m.Name, after})
		}
	}
	return out
}

// event is when a milestone was seen, or that it was not yet.
func (h *Horse) event(step exam.Step) exam.Value {
	m, _ := score.MilestoneOf(step.ID)
	for _, done := range h.Milestones() {
		if done.Name == m.Name {
			return step.SeenAt(h.Animal.Birth.At.Add(done.After).In(h.openedAt.Location()))
		}
	}
	return exam.Value{Kind: step.Kind, Words: []string{exam.EventNotYet}}
}

// card is what the foaling card on the door has in the line of a milestone.
func (h *Horse) card(k exam.Key) string {
	v := h.truth[k]
	text := h.described(k)
	if v.At != nil {
		text += " " + v.At.Format("15:04") + "."
	}
	return text
}

// toldMilestones is what whoever sat up has written on the door.
func (h *Horse) toldMilestones() string {
	text := ""
	for _, m := range h.Milestones() {
		text += fmt.Sprintf(" %s after %s.", notation.Capital(m.Name), age(m.After))
	}
	if text == "" {
		return ""
	}
	return " Born at " + h.Animal.Birth.At.In(h.openedAt.Location()).Format("15:04") + ". On the door it says, from the birth on:" + text
}

func age(d time.Duration) string {
	n := int(d.Minutes())
	if n < 60 {
		return fmt.Sprintf("%d min", n)
	}
	return fmt.Sprintf("%d h %02d min", n/60, n%60)
}

// milestoneNames lists what can be given in a case.
func milestoneNames() []string {
	var names []string
	for _, m := range score.Milestones() {
		names = append(names, m.Name)
	}
	return names
}

func isMilestone(name string) bool { return slices.Contains(milestoneNames(), name) }
