package rehearse

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/steps"
	"loosebox/exam/tap"
)

// trainee is a scripted person. Without slips it reads every answer from what the horse shows: words, events, beats,
// breaths and sounds, never from the truth.
type trainee struct {
	t       testing.TB
	h       *Horse
	routine exam.Routine
	store   *examtest.Store
	visit   exam.VisitID
	now     float64 // s since the opening
	rng     *rand.Rand
	slips   slips
}

// slips are the faults that a trainee makes on purpose.
type slips struct {
	skip       exam.StepID            // a whole step left out
	side       exam.Key               // one site left out
	passed     exam.Key               // one place passed over with a reason
	wrong      map[exam.Key]string    // answers in words
	tapFactor  float64                // taps come this much too fast; 0 is none
	unsafe     string                 // moment
	moved      exam.StepID            // asked last instead of in turn
	context    []exam.State           // written instead of what the keeper said
	silent     bool                   // no hand-off
	early      bool                   // hands off before the last answer
	byEar      bool                   // counts by ear for 30 s
	noClock    bool                   // nothing says when a count began
	overall    map[exam.StepID]string // one answer for all sites
	unfinished int                    // stops after so many places
}

// rehearsal plays a whole rehearsal and returns its stored entries.
func rehearsal(t testing.TB, h *Horse, routine exam.Routine, s slips) []exam.Entry {
	t.Helper()
	p := &trainee{t: t, h: h, routine: routine, store: examtest.NewRehearsals(), rng: rand.New(rand.NewPCG(h.Origin.Seed, 77)), slips: s}
	animal, err := p.store.SaveHorse(h.Animal, "Nell Harrow", opened())
	require.NoError(t, err)
	v, err := p.store.Begin(exam.Entry{Kind: exam.EntryOpened, At: opened(), By: "Nell Harrow", Opening: h.Opening(animal, routine.Name)})
	require.NoError(t, err)
	p.visit = v.ID
	p.play()
	entries, err := p.store.Entries(v.ID)
	require.NoError(t, err)
	return entries
}

func (p *trainee) append(e exam.Entry) {
	p.t.Helper()
	e.Visit, e.By, e.At = p.visit, "Nell Harrow", opened().Add(time.Duration(p.now*float64(time.Second)))
	_, err := p.store.Append(e)
	require.NoError(p.t, err)
}

func (p *trainee) play() {
	states := p.h.Context.States
	if p.slips.context != nil {
		states = p.slips.context
	}
	p.now = 5
	p.append(exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: states}})
	asks := slices.Clone(p.routine.For(p.h.Class, p.h.table).Asks)
	if i := slices.IndexFunc(asks, func(a exam.Ask) bool { return a.Step == p.slips.moved }); i >= 0 {
		a := asks[i]
		asks = append(slices.Delete(asks, i, i+1), a)
	}
	places := 0
	for n, ask := range asks {
		if p.slips.early && n == len(asks)-3 {
			p.handOff()
		}
		for _, k := range ask.Keys() {
			if places++; p.slips.unfinished > 0 && places > p.slips.unfinished {
				return
			}
			p.answer(k)
		}
	}
	if !p.slips.silent && !p.slips.early {
		p.handOff()
	}
	p.now += 5
	p.append(exam.Entry{Kind: exam.EntryClosed})
}

func (p *trainee) handOff() {
	p.now += 20
	p.append(exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr. Ida Vance", How: exam.ByTelephone}})
}

func (p *trainee) answer(k exam.Key) {
	step, _ := p.h.table.ByID(k.Step)
	if k.Step == p.slips.skip || k == p.slips.side {
		return
	}
	p.now += 6 + 10*p.rng.Float64()
	v, err := p.store.Visit(p.visit)
	require.NoError(p.t, err)
	if m, ok := p.h.MomentAt(k, v); ok {
		i := slices.IndexFunc(m.Options, func(o Option) bool { return o.Safe == (m.ID != p.slips.unsafe) })
		p.append(m.Entry(k.Site, m.Options[i]))
	}
	if k == p.slips.passed {
		p.append(exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: exam.ReasonNoTime})
		return
	}
	if text, ok := p.slips.overall[k.Step]; ok {
		p.write(exam.Key{Step: k.Step, Site: exam.Overall}, p.typed(step, text))
		return
	}
	if text, ok := p.slips.wrong[k]; ok {
		p.write(k, p.typed(step, text))
		return
	}
	p.write(k, p.examine(step, k))
}

func (p *trainee) write(k exam.Key, v exam.Value) {
	p.append(exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v})
}

func (p *trainee) typed(step exam.Step, text string) exam.Value {
	v, err := step.ReadAnswer(text, step.Unit)
	require.NoError(p.t, err, "%s: %s", step.ID, text)
	return v
}

// examine finds the answer of a place from what the horse shows.
func (p *trainee) examine(step exam.Step, k exam.Key) exam.Value {
	seen := p.h.Look(k, 0)
	switch {
	case step.Kind == exam.KindCount:
		return p.count(step, k)
	case step.Kind == exam.KindTime:
		return p.timed(step, k)
	case step.ID == "gut.sounds":
		return p.listen(step, k)
	case step.ID == "heart.rhythm":
		return p.rhythm(step)
	case step.ID == "temp.rectal":
		beep := seen.Events[len(seen.Events)-1]
		require.Equal(p.t, Done, beep.Kind)
		p.now += beep.AfterS
		return p.typed(step, firstNumber(beep.Words)+"C")
	case step.ID == "weight.body":
		v := p.typed(step, firstNumber(seen.Words)+"kg")
		v.Weight = &exam.Weight{Method: exam.WeightScale}
		return v
	case step.ID == "pain.grimace":
		return p.typed(step, strconv.Itoa(strings.Count(seen.Words, "somewhat")+2*strings.Count(seen.Words, "plain")))
	case step.Kind == exam.KindNote:
		return p.typed(step, "nothing more")
	}
	var keys []string
	for _, c := range step.Choices {
		if text := p.h.sight[step.ID][c.Key]; text != "" && strings.Contains(seen.Words, text) {
			keys = append(keys, c.Key)
		}
	}
	v, err := step.ChoiceValue(keys...)
	require.NoError(p.t, err)
	require.NotEmpty(p.t, keys, "%s: %q says nothing", k.Step, seen.Words)
	return v
}

func firstNumber(text string) string { return regexp.MustCompile(`\d+(\.\d+)?`).FindString(text) }

// count taps every beat for 40 s or every breath for 70 s, with a practised hand's scatter, or counts 30 s by ear.
func (p *trainee) count(step exam.Step, k exam.Key) exam.Value {
	window, hand := 40.0, 0.04
	what := tap.Heart
	if step.Heard == "breath" {
		window, hand, what = 70, 0.15, tap.Breath
	}
	at := p.h.events(step, p.now, p.now+window)
	zero := at[0]
	defer func() { p.now += window }()
	if !p.slips.noClock {
		p.append(ClockEntry(k, zero))
	}
	if p.slips.byEar {
		n := len(p.h.events(step, zero, zero+30)) - 1
		q := exam.Quantity{Value: float64(2 * n), Unit: exam.PerMinute}
		return exam.Value{Kind: step.Kind, Number: &q, Count: &exam.Count{Method: exam.CountByEar, WindowS: 30, Counted: n}}
	}
	taps := make([]float64, len(at))
	for i, b := range at {
		taps[i] = b - zero + hand*p.rng.NormFloat64()
		if p.slips.tapFactor > 0 && what == tap.Heart {
			taps[i] = (b - zero) / p.slips.tapFactor
		}
	}
	taps[0] = 0
	slices.Sort(taps)
	r, err := tap.Evaluate(taps, tap.Options{What: what, LeadIn: 2})
	require.NoError(p.t, err)
	q := exam.Quantity{Value: r.Rate, Unit: exam.PerMinute}
	return exam.Value{Kind: step.Kind, Number: &q, Count: &exam.Count{Method: exam.CountTapped, TapsS: taps, LeadIn: r.LeadIn, HalfWidth: r.HalfWidth, Evenness: r.Evenness}}
}

// timed presses as the colour or the fold comes back, a tenth of a second late each time.
func (p *trainee) timed(step exam.Step, k exam.Key) exam.Value {
	var trials []float64
	for n := range 3 {
		ev := p.h.Look(k, n).Events
		require.Equal(p.t, []EventKind{Pale, Back}, []EventKind{ev[0].Kind, ev[1].Kind})
		trials = append(trials, ev[1].AfterS-ev[0].AfterS+0.1)
		p.now += ev[1].AfterS + 3
	}
	v, err := step.TimesValue(trials)
	require.NoError(p.t, err)
	return v
}

// listen takes four minutes at a quadrant and goes by the published figures: none, under 1, 1 to 3, over 3 a minute.
func (p *trainee) listen(step exam.Step, k exam.Key) exam.Value {
	sounds := p.h.Sounds(k.Site, p.now, p.now+240)
	n := len(sounds)
	p.now += 240
	switch {
	case n == 0:
		return p.typed(step, "none")
	case n < 4, n == 4 && sounds[0].Kind == Faint: // four in four minutes, the ends included
		return p.typed(step, "reduced")
	case n > 12:
		return p.typed(step, "increased")
	}
	return p.typed(step, "heard")
}

// rhythm taps for three minutes and takes the word that the counting rules find.
func (p *trainee) rhythm(step exam.Step) exam.Value {
	at := p.h.Beats(p.now, p.now+180)
	p.now += 180
	r, err := tap.Evaluate(at, tap.Options{What: tap.Heart, Sigma: 0.01})
	require.NoError(p.t, err)
	word := map[string]string{
		tap.Even: "regular", tap.EvenWithPauses: "pauses", tap.SpeedingAndSlowing: "waves", tap.Irregular: "irregular",
	}[r.Evenness]
	require.NotEmpty(p.t, word, r.Evenness)
	return p.typed(step, word)
}

func routineOf(t testing.TB, name string) exam.Routine {
	t.Helper()
	r, ok := steps.Find(steps.Routines(), name)
	require.True(t, ok, name)
	return r
}

// faultsOf lists the faults that are not remarks, as text, sorted; and the remarks.
func faultsOf(m Marks) (own, remarks []string) {
	for _, f := range m.Faults() {
		text := strings.TrimSpace(fmt.Sprintf("%s: %s %s", f.Kind, f.Step, f.Site))
		if f.Kind == FaultSafety {
			text = fmt.Sprintf("%s: %s", f.Kind, f.Words)
		}
		if f.Kind == FaultRemark {
			remarks = append(remarks, text)
			continue
		}
		own = append(own, text)
	}
	slices.Sort(own)
	return own, remarks
}
