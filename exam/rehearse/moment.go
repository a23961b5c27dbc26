package rehearse

import (
	"slices"
	"strconv"

	"loosebox/exam"
)

// DangerMoment is one moment at which people get hurt: the horse does something, and the trainee is asked what to do next.
type DangerMoment struct {
	ID    string
	Place string      // where on the walk round the horse: door, tail, head …
	Step  exam.StepID // where it comes up
	// AfterS is how many seconds after the step was opened it comes up; 0 is on coming to the place.
	AfterS  float64
	Happens string
	Asks    string
	Options []Option
	// Why is said at once after a wrong choice, and after a right one if wanted.
	Why    string
	Source string // code of the range tables

	steps []exam.StepID // any of which brings it up, whichever comes first
	needs string        // a caution the horse must carry; empty for none
	young bool          // only with a foal
}

// Option is one answer to what the horse does: something that the trainee could do.
type Option struct {
	Key   string
	Words string
	Safe  bool // not shown before the choice
}

// MomentAt gives the moment that comes up at a place, or false where there is none or it was answered already in this
// visit. It depends on the horse and on what is stored only, so that it comes up again after a crash.
func (h *Horse) MomentAt(k exam.Key, v exam.Visit) (DangerMoment, bool) {
	if v.Routine == OrderDrill { // nobody goes near the horse in it
		return DangerMoment{}, false
	}
	done := map[string]bool{}
	for _, c := range ChoicesIn(v) {
		done[c.Moment] = true
	}
	for _, m := range h.Moments() {
		if !done[m.ID] && slices.Contains(m.steps, k.Step) {
			m.Step = k.Step
			return m, true
		}
	}
	return DangerMoment{}, false
}

// Moments lists the moments that this horse brings up, in the order of the walk: one a place, drawn by seed from those
// that fit the horse. Whether a place has one depends on the seed and on the temper.
func (h *Horse) Moments() []DangerMoment {
	h.dangersOnce.Do(func() { h.dangers = h.drawDangers() })
	return slices.Clone(h.dangers)
}

func (h *Horse) drawDangers() []DangerMoment {
	var out []DangerMoment
	for _, place := range places() {
		r := h.Origin.random("danger at " + place)
		comes := r.Float64() < h.Temper.odds()
		fit := h.fitting(place)
		if place == needlePlace || len(fit) == 0 || !comes && !always(place) {
			continue
		}
		out = append(out, h.shuffled(fit[r.IntN(len(fit))]))
	}
	return out
}

// fitting are the moments of a place that this horse can bring up.
func (h *Horse) fitting(place string) []DangerMoment {
	var out []DangerMoment
	for _, m := range moments() {
		cautioned := m.needs == "" || slices.Contains(h.Animal.Cautions, m.needs)
		if m.Place == place && cautioned && (!m.young || h.Class.Young) {
			out = append(out, m)
		}
	}
	return out
}

// AtInjection is the moment after the needle went in: the plunger is drawn back first. It comes up whatever the horse.
func (h *Horse) AtInjection() DangerMoment {
	fit := h.fitting(needlePlace)
	return h.shuffled(fit[0])
}

func (h *Horse) shuffled(m DangerMoment) DangerMoment {
	m.Options = slices.Clone(m.Options)
	r := h.Origin.random("options " + m.ID)
	r.Shuffle(len(m.Options), func(i, j int) { m.Options[i], m.Options[j] = m.Options[j], m.Options[i] })
	return m
}

// Option gives one of the options.
func (m DangerMoment) Option(key string) (Option, bool) {
	for _, o := range m.Options {
		if o.Key == key {
			return o, true
		}
	}
	return Option{}, false
}

// Entry is the choice as a line of the record: a note at the place, for the caller to stamp with time and person.
func (m DangerMoment) Entry(site exam.Site, o Option) exam.Entry {
	return fact{kind: factSafety, values: []string{m.ID, o.Key}, words: o.Words}.entry(exam.Key{Step: m.Step, Site: site})
}

// Chosen is a choice that was stored.
type Chosen struct {
	Moment, Option string
	Step           exam.StepID
	Seq            int
}

// ChoicesIn are the choices of a visit. Only the first at a moment counts.
func ChoicesIn(v exam.Visit) []Chosen {
	var out []Chosen
	for _, f := range factsIn(v, factSafety) {
		if len(f.values) == 2 && !slices.ContainsFunc(out, func(c Chosen) bool { return c.Moment == f.values[0] }) {
			out = append(out, Chosen{Moment: f.values[0], Option: f.values[1], Step: f.Step, Seq: f.Seq})
		}
	}
	return out
}

// ClockEntry says at which second of the horse's time the first key of a count was pressed: the zero of Count.TapsS, or
// the beginning of the window of a count by ear. It is written before the count itself, which is marked by it.
func ClockEntry(k exam.Key, zeroS float64) exam.Entry {
	return fact{kind: factClock, values: []string{milliText(zeroS)}, words: "s: the count began"}.entry(k)
}

// clockOf finds when the count that entry seq holds began; false where nothing says so.
func clockOf(v exam.Visit, k exam.Key, seq int) (float64, bool) {
	zero, found := 0.0, false
	for _, f := range factsIn(v, factClock) {
		if f.Step != k.Step || f.Site != k.Site || f.Seq > seq || len(f.values) != 1 {
			continue
		}
		if at, err := strconv.ParseFloat(f.values[0], 64); err == nil {
			zero, found = at, true
		}
	}
	return zero, found
}

func milliText(s float64) string { return strconv.FormatFloat(s, 'f', 3, 64) }
