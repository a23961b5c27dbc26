package rehearse

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"loosebox/exam"
)

// Trainee is a scripted person, for demonstrations and tests. Without slips it reads every answer from what the horse
// shows (words, events, beats, breaths and sounds, never the truth) and makes no mistake. The same trainee with the same
// horse writes the same entries.
type Trainee struct {
	By    string
	To    string  // the veterinarian whom it hands off to
	HandS float64 // scatter of its taps at a heart, s; 0 for 40 ms
	Pace  float64 // how many times as long as a practised person it takes on the way from step to step; 0 for 1
	Slips Slips
}

// Slips are the faults that a trainee makes on purpose.
type Slips struct {
	Skip       exam.StepID               // a whole step left out
	Side       exam.Key                  // one site left out
	Passed     exam.Key                  // one place passed over with a reason
	PassedAll  string                    // every place passed over with this reason
	Wrong      map[exam.Key]string       // answers as they are typed
	TapFactor  float64                   // taps at the heart come this many times too fast; 0 is none
	Unsafe     string                    // the place at whose moment the choice is not the safe one
	Moved      exam.StepID               // asked last instead of in turn
	Context    []exam.State              // written instead of what the keeper said
	Silent     bool                      // no hand-off
	Early      bool                      // hands off before the last answers
	ByEar      bool                      // counts by ear for 30 s
	NoClock    bool                      // nothing says when a count began
	Overall    map[exam.StepID]string    // one answer for all sites, as it is typed
	Unfinished int                       // stops after so many places
	UsualAll   bool                      // "usual" at every step that has such an answer, after looking for as long as it takes
	AtRandom   *rand.Rand                // answers and choices drawn out of those that there are, after looking for as long as it takes; nil is none
	HurriedS   float64                   // looks, listens and feels for so many seconds at every place; 0 is as long as it takes
	Option     func(DangerMoment) Option // how it chooses at moments of danger; nil is the safe one
}

// attempt is one rehearsal under way.
type attempt struct {
	Trainee
	h       *Horse
	routine exam.Routine
	rng     *rand.Rand
	now     float64 // s since the opening
	came    float64 // to the place, s since the opening
	visit   exam.Visit
	entries []exam.Entry
	err     error // the first; nothing is written after it
}

// Rehearse plays the routine with a horse and returns the entries in order, the opening first, each with time and name but
// without visit, number and hash, which a store sets. The horse in the opening is the horse's Animal. The error says which
// answer could not be written.
func (t Trainee) Rehearse(h *Horse, routine exam.Routine) ([]exam.Entry, error) {
	if t.HandS == 0 {
		t.HandS = 0.04
	}
	if t.Pace == 0 {
		t.Pace = 1
	}
	a := &attempt{Trainee: t, h: h, routine: routine, rng: rand.New(rand.NewPCG(h.Origin.Seed, 77))}
	a.append(exam.Entry{Kind: exam.EntryOpened, Opening: h.Opening(h.Animal, routine.Name)})
	a.play()
	if a.err != nil {
		return nil, fmt.Errorf("a scripted rehearsal of %s: %w", h.Origin, a.err)
	}
	return a.entries, nil
}

func (a *attempt) fail(err error) {
	if a.err == nil {
		a.err = err
	}
}

// append writes an entry and keeps the visit as far as Horse.MomentAt asks for it.
func (a *attempt) append(e exam.Entry) {
	e.By, e.At = a.By, a.h.openedAt.Add(time.Duration(a.now*float64(time.Second)))
	a.entries = append(a.entries, e)
	sealed := e
	sealed.Seq, sealed.Prev = a.visit.Entries+1, a.visit.Last
	if err := exam.Seal(&sealed); err != nil {
		a.fail(err)
		return
	}
	if err := a.visit.Apply(sealed); err != nil {
		a.fail(err)
	}
}

func (a *attempt) play() {
	states := a.h.Context.States
	if a.Slips.Context != nil {
		states = a.Slips.Context
	}
	a.now = 5
	a.append(exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: states}})
	asks := slices.Clone(a.routine.For(a.h.Class, a.h.table).Asks)
	if i := slices.IndexFunc(asks, func(k exam.Ask) bool { return k.Step == a.Slips.Moved }); i >= 0 {
		moved := asks[i]
		asks = append(slices.Delete(asks, i, i+1), moved)
	}
	places := 0
	for n, ask := range asks {
		if a.Slips.Early && n == len(asks)-3 {
			a.handOff()
		}
		for _, k := range ask.Keys() {
			if places++; a.err != nil || a.Slips.Unfinished > 0 && places > a.Slips.Unfinished {
				return
			}
			a.answer(k)
		}
	}
	if !a.Slips.Silent && !a.Slips.Early {
		a.handOff()
	}
	a.now += 5
	a.append(exam.Entry{Kind: exam.EntryClosed})
}

func (a *attempt) handOff() {
	a.now += 20
	a.append(exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: a.To, How: exam.ByTelephone}})
}

func (a *attempt) answer(k exam.Key) {
	step, ok := a.h.table.ByID(k.Step)
	if !ok {
		a.fail(errors.New("no step is called " + string(k.Step)))
	}
	if k.Step == a.Slips.Skip || k == a.Slips.Side {
		return
	}
	a.now += a.Pace * (6 + 10*a.rng.Float64())
	if m, ok := a.h.MomentAt(k, a.visit); ok {
		i := slices.IndexFunc(m.Options, func(o Option) bool { return o.Safe == (m.Place != a.Slips.Unsafe) })
		chosen := m.Options[i]
		if a.Slips.Option != nil {
			chosen = a.Slips.Option(m)
		}
		if r := a.Slips.AtRandom; r != nil {
			chosen = m.Options[r.IntN(len(m.Options))]
		}
		a.append(m.Entry(k.Site, chosen))
	}
	a.came = a.now
	switch {
	case a.Slips.PassedAll != "":
		a.append(exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: a.Slips.PassedAll})
		return
	case k == a.Slips.Passed:
		a.append(exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(exam.ReasonNoTime)})
		return
	}
	if text, ok := a.Slips.Overall[k.Step]; ok {
		a.write(exam.Key{Step: k.Step, Site: exam.Overall}, a.typed(step, text))
		return
	}
	if text, ok := a.Slips.Wrong[k]; ok {
		a.write(k, a.typed(step, text))
		return
	}
	if v, ok := step.UsualValue(); ok && a.Slips.UsualAll {
		a.write(k, v)
		return
	}
	if a.Slips.AtRandom != nil {
		a.write(k, a.drawn(step))
		return
	}
	v := a.examine(step, k)
	if a.Slips.HurriedS > 0 {
		a.now = a.came + a.Slips.HurriedS
	}
	a.write(k, v)
}

func (a *attempt) write(k exam.Key, v exam.Value) {
	for _, at := range a.placesAt(k) {
		if a.Slips.HurriedS == 0 {
			a.now = max(a.now, a.came+math.Ceil(a.h.NeedOf(at, v).Seconds))
		}
		a.append(SensedEntry(at, a.now-a.came))
		a.came = a.now
	}
	a.append(exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v})
}

// placesAt are the places that one answer is of.
func (a *attempt) placesAt(k exam.Key) []exam.Key {
	if step, ok := a.h.table.ByID(k.Step); ok && k.Site == exam.Overall {
		return placesOf(step)
	}
	return []exam.Key{k}
}

func (a *attempt) typed(step exam.Step, text string) exam.Value {
	v, err := step.ReadAnswer(text, step.Unit)
	if err != nil {
		a.fail(fmt.Errorf("%s: %q: %w", step.ID, text, err))
	}
	return v
}
