package rehearse

import (
	"fmt"
	"strconv"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// How long a sense takes at a place, at least, before an answer counts as earned. What goes on by itself (heart, breath,
// gut, a pulse, a thermometer) takes its own time; what is told in words takes as long as a look or a touch.
const (
	lookS     = 2   // common practice
	touchS    = 3   // common practice
	trialS    = 1   // of a refill or a fold: it is pressed
	quadrantS = 60  // a quadrant of the gut: the step's how; KPPV has a minute, others 30 to 60 s
	rushS     = 240 // right upper, before none: the step's how; the rush comes every 1 to 2 minutes (COOR)
	evenS     = 30  // a rhythm called regular: twenty gaps at 40 a minute (common practice)
	unevenS   = 60  // any other word for it: FEI19, art. 821
	murmurS   = 10  // a side: a soft one is found after a few seconds (EQCARD)
	spots     = 2   // breaths at a spot of the lungs, or of effort: the step's how
	pulses    = 3   // beats under the fingers (common practice)
)

// Need is how long a place takes at least, and on whose word.
type Need struct {
	Seconds float64 `json:"seconds"`
	Why     string  `json:"why"`
	Source  string  `json:"source"` // code of the range tables; in marks the source in full
}

// NeedOf is how long a place takes before an answer at it is earned.
func (h *Horse) NeedOf(k exam.Key, answer exam.Value) Need {
	step, _ := h.table.ByID(k.Step)
	breaths := 60 / max(h.rate("breath.rate"), 1)
	switch {
	case step.Kind == exam.KindCount:
		return h.typedNeed(step)
	case step.Kind == exam.KindTime:
		return Need{trialS, "a trial of it", "TRADE"}
	case step.ID == "heart.rhythm" && !answer.Has("regular"):
		return Need{unevenS, "a rhythm that is not regular is listened to for a full minute", "FEI19"}
	case step.ID == "heart.rhythm":
		return Need{evenS, "a rhythm is listened to for half a minute at least", "TRADE"}
	case step.ID == "heart.murmur":
		return Need{murmurS, "each side is listened to until a soft murmur would have been found", "EQCARD"}
	case step.ID == "gut.sounds" && k.Site == exam.RightUpper && answer.Has("none"):
		return Need{rushS, "at the right flank none is said after 4 minutes without the long rush", "COOR"}
	case step.ID == "gut.sounds":
		return Need{quadrantS, "each quadrant takes a minute", "KPPV"}
	case step.Listen == exam.ListenBreath:
		return Need{spots * breaths, "two breaths", "TRADE"}
	case step.ID == "limb.digitalpulse" || step.ID == "pulse.strength":
		return Need{pulses * 60 / max(h.rate("heart.rate"), 1), "three beats under the fingers", "TRADE"}
	case step.SlowSeconds > 0:
		return Need{h.beepS(k), "until the thermometer beeps", "TRADE"}
	case step.Sense == exam.ByHand:
		return Need{touchS, "a hand that has time to feel", "TRADE"}
	}
	return Need{lookS, "a look", "TRADE"}
}

// beepS is when the thermometer stands still.
func (h *Horse) beepS(k exam.Key) float64 {
	if events := h.Look(k, 0).Events; len(events) > 0 {
		return events[len(events)-1].AfterS
	}
	return lookS
}

// TooSoon says why an answer at a place is not earned after so many seconds of looking, listening or feeling; empty where
// it is.
func (h *Horse) TooSoon(k exam.Key, answer exam.Value, sensedS float64) string {
	need := h.NeedOf(k, answer)
	if sensedS >= need.Seconds-0.05 {
		return ""
	}
	step, _ := h.table.ByID(k.Step)
	verb := map[exam.Sense]string{exam.ByEar: "listened", exam.ByHand: "felt"}[step.Sense]
	if verb == "" {
		verb = "looked"
	}
	return fmt.Sprintf("%s for %s s, it needs %s s: %s", verb, wholeS(sensedS), wholeS(need.Seconds), need.Why)
}

func wholeS(s float64) string { return notation.FormatNumber(s, 0) }

// SensedEntry says for how many seconds in all a place was looked at, listened to or felt. It is written before the answer.
func SensedEntry(k exam.Key, seconds float64) exam.Entry {
	return fact{kind: factSensed, values: []string{strconv.FormatFloat(seconds, 'f', 1, 64)}, words: "s at the place"}.entry(k)
}

// SensedIn is for how long each place of a visit was sensed before an entry; 0 stands for all of them.
func SensedIn(v exam.Visit, before int) map[exam.Key]float64 {
	out := map[exam.Key]float64{}
	for _, f := range factsIn(v, factSensed) {
		if len(f.values) != 1 || before > 0 && f.Seq > before {
			continue
		}
		if s, err := strconv.ParseFloat(f.values[0], 64); err == nil && s >= 0 {
			k := exam.Key{Step: f.Step, Site: f.Site}
			out[k] = max(out[k], s)
		}
	}
	return out
}

// sensedAt is for how long one place was sensed before an entry.
func (m *marker) sensedAt(k exam.Key, before int) float64 {
	v := m.visit
	v.Notes = nil
	for _, n := range m.visit.Notes {
		if n.Step == k.Step && n.Site == k.Site {
			v.Notes = append(v.Notes, n)
		}
	}
	return SensedIn(v, before)[k]
}

// tooSoon is TooSoon of a stored answer. What a count takes is marked with the count.
func (m *marker) tooSoon(step exam.Step, k exam.Key, f exam.Finding) string {
	if step.Kind == exam.KindCount {
		return ""
	}
	return m.horse.TooSoon(k, f.Value, m.sensedAt(k, f.Seq))
}
