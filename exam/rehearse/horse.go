package rehearse

import (
	"fmt"
	"maps"
	"sync"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Horse is one simulated horse. It never changes after it is made and may be used by several goroutines. All its times
// are seconds since the visit was opened.
type Horse struct {
	Origin  CaseOrigin
	Case    Case
	Animal  exam.Horse // without ID and revision, for Store.SaveHorse
	Class   exam.Class
	Temper  Temper
	Context exam.Context // what is true of the last half hour

	table    *exam.Steps
	held     *ranges.Table
	truth    map[exam.Key]exam.Value
	sight    map[exam.StepID]map[string]string
	heart    *train
	breath   *train
	gut      map[exam.Site]*quarter
	moves    *train
	openedAt time.Time

	dangersOnce sync.Once
	dangers     []DangerMoment // drawn when they are first asked for
	every       int            // place of a dropped beat; 0 where none is dropped
}

// New draws a horse. at is when the visit is opened: the age counts from it. An error says which number the case must
// give because no range is held for the class.
func New(c Case, seed uint64, at time.Time, table *exam.Steps, held *ranges.Table) (*Horse, error) {
	origin := CaseOrigin{Case: c.Name, Seed: seed, Digest: c.Digest}
	c = c.drawn(origin)
	h := &Horse{
		Origin: origin, Case: c, Animal: c.Horse, Temper: c.Temper,
		Context: exam.Context{States: c.States}, table: table, held: held, gut: map[exam.Site]*quarter{},
	}
	h.Animal.Birth = c.Age.birth(h.Origin.random("birth"), at)
	h.Animal.Revision = 1
	if len(h.Context.States) == 0 {
		h.Context.States = []exam.State{exam.StateRest}
	}
	return h, h.finish(at)
}

// Again makes the horse of a stored rehearsal again, as it stands in the opening of the visit. The case must be the one
// it was drawn from: an error says that its file was changed since, or that the visit is no rehearsal.
func Again(v exam.Visit, c Case, table *exam.Steps, held *ranges.Table) (*Horse, error) {
	o, ok := OriginOf(v)
	switch {
	case !ok:
		return nil, fmt.Errorf("this visit is no rehearsal, so there is nothing to mark it against")
	case o.Case != c.Name:
		return nil, fmt.Errorf("this was a rehearsal of the case %s, not of %s", o.Case, c.Name)
	case o.Digest != c.Digest:
		return nil, fmt.Errorf("the case %s was changed after this rehearsal, so its truth is not known. The visit stays as it is", c.Name)
	}
	h, err := New(c, o.Seed, v.OpenedAt, table, held)
	if err != nil {
		return nil, err
	}
	h.Animal = v.Horse
	return h, nil
}

func (h *Horse) finish(at time.Time) error {
	h.openedAt, h.Class = at, exam.ClassOf(h.Animal, at)
	h.sight = sightsOf(h.table, h.Class.Young)
	h.truth = map[exam.Key]exam.Value{}
	for _, step := range h.table.All() {
		if step.Kind == exam.KindNote || !step.AskedOf(h.Class) {
			continue
		}
		for _, k := range placesOf(step) {
			v, err := h.draw(step, k)
			if total, ok := v.In(notation.Points); ok && err == nil && len(step.Parts.List) > 0 && !step.Parts.Mean && len(v.Parts) == 0 {
				v, err = h.deal(step, total)
			}
			if err != nil {
				return err
			}
			h.truth[k] = v
		}
	}
	h.begin()
	return nil
}

// begin sets heart, breath, gut and movements going.
func (h *Horse) begin() {
	beats, breaths := h.rate("heart.rate"), h.rate("breath.rate")
	rhythm := h.word(exam.Key{Step: "heart.rhythm"})
	if rhythm == "pauses" {
		h.every = h.Case.PauseEvery
		if h.every == 0 {
			h.every = 3 + h.Origin.random("pause").IntN(3) // every 3rd to 5th: PROV1
		}
	}
	// A wave follows the breath; its length was read as 4 to 8 beats.
	wave := min(max(beats/breaths, 4), 8)
	h.heart = heart(h.Origin.random("heart"), rhythm, beats, h.every, wave)
	h.breath = breathing(h.Origin.random("breath"), breaths)
	for _, site := range []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower} {
		h.gut[site] = gut(h.Origin, site, h.word(exam.Key{Step: "gut.sounds", Site: site}))
	}
	low, high := h.Temper.movesS()
	h.moves = gaps(h.Origin.random("moves"), low, high)
}

func (h *Horse) rate(step exam.StepID) float64 {
	v := h.truth[exam.Key{Step: step}]
	n, _ := v.In(notation.PerMinute)
	return n
}

// word is the one choice that is true of a place; empty where there is none.
func (h *Horse) word(k exam.Key) string {
	if words := h.truth[k].Words; len(words) > 0 {
		return words[0]
	}
	return ""
}

// Truth is what is true at a place, for the marks: it is not shown before the end. It is false for notes and for steps
// that are not asked of this horse. A count is its rate in the long run; what was true of the very stretch that was
// counted comes from Beats and Breaths.
func (h *Horse) Truth(k exam.Key) (exam.Value, bool) {
	v, ok := h.truth[k]
	return v, ok
}

// Opening is the opening of the rehearsal's visit; animal is the horse as the rehearsal's own store keeps it.
func (h *Horse) Opening(animal exam.Horse, routine string) *exam.Opening {
	return &exam.Opening{Horse: animal, Routine: routine, Reason: h.Case.Reason, Source: h.Origin.String()}
}

// Beats lists the heart beats from one second up to, but not including, another. At most LongestS.
func (h *Horse) Beats(from, to float64) []float64 { return h.heart.between(from, to) }

// Breaths lists the moments at which the flank begins to move out.
func (h *Horse) Breaths(from, to float64) []float64 { return h.breath.between(from, to) }

// Sounds lists the gut sounds that begin at a quadrant between two seconds; none at any other site.
func (h *Horse) Sounds(site exam.Site, from, to float64) []Sound {
	if q, ok := h.gut[site]; ok {
		return q.between(from, to)
	}
	return nil
}

// sightsOf lists what is seen, heard or felt of every choice, by step and key, in an animal of the age.
func sightsOf(table *exam.Steps, young bool) map[exam.StepID]map[string]string {
	all := map[exam.StepID]map[string]string{}
	for _, step := range table.All() {
		own := maps.Clone(step.Shows.Choices)
		if young {
			maps.Copy(own, step.Shows.Young)
		}
		all[step.ID] = own
	}
	return all
}
