package rehearse

import (
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// opened is when every rehearsal of the tests begins.
func opened() time.Time { return time.Date(2026, 4, 10, 9, 30, 0, 0, time.UTC) }

// What every test reads and none changes is made once.
var (
	heldOnce     = sync.OnceValues(ranges.BuiltIn)
	stepsOnce    = sync.OnceValue(steps.Table)
	routinesOnce = sync.OnceValue(steps.Routines)
	casesOnce    = sync.OnceValues(func() ([]Case, error) {
		table, err := heldOnce()
		if err != nil {
			return nil, err
		}
		return Cases(stepsOnce(), table)
	})
	judgeOnce = sync.OnceValues(func() (*judge.Judge, error) {
		table, err := heldOnce()
		return judge.New(table, stepsOnce()), err
	})
)

func held(t testing.TB) *ranges.Table {
	t.Helper()
	table, err := heldOnce()
	require.NoError(t, err)
	return table
}

func builtInCases(t testing.TB) []Case {
	t.Helper()
	cases, err := casesOnce()
	require.NoError(t, err)
	return slices.Clone(cases)
}

// judging judges by the built-in tables.
func judging(t testing.TB) *judge.Judge {
	t.Helper()
	j, err := judgeOnce()
	require.NoError(t, err)
	return j
}

func horse(t testing.TB, name string, seed uint64) *Horse {
	t.Helper()
	c, ok := CaseNamed(builtInCases(t), name)
	require.True(t, ok, name)
	h, err := New(c, seed, opened(), stepsOnce(), held(t))
	require.NoError(t, err)
	return h
}

// A healthy horse of every class with ranges lies inside them, in all measures, and its draws spread over them.
func TestHealthyDrawsLieInTheTables(t *testing.T) {
	table, rows := steps.Table(), held(t)
	ages := map[ranges.Class]struct {
		kind exam.AnimalKind
		age  string
	}{
		ranges.AdultLight: {exam.AnimalHorse, "5 to 20 years"}, ranges.Draft: {exam.AnimalDraft, "5 to 20 years"},
		ranges.Pony: {exam.AnimalPony, "5 to 20 years"}, ranges.DonkeyAdult: {exam.AnimalDonkey, "5 to 20 years"},
		ranges.Mule: {exam.AnimalMule, "5 to 20 years"}, ranges.FoalFirstDay: {exam.AnimalHorse, "7 to 20 hours"}, ranges.FoalFirstHours: {exam.AnimalHorse, "2 to 5 hours"},
		ranges.Miniature: {exam.AnimalMiniature, "5 to 20 years"}, ranges.DonkeyNewborn: {exam.AnimalDonkey, "2 to 5 days"},
		ranges.MuleFoalFirstMonth: {exam.AnimalMule, "9 to 20 days"},
		ranges.FoalFirstWeek:      {exam.AnimalHorse, "2 to 5 days"}, ranges.FoalFirstMonth: {exam.AnimalHorse, "9 to 20 days"},
		ranges.FoalToSixMonths: {exam.AnimalHorse, "2 to 4 months"}, ranges.Yearling: {exam.AnimalHorse, "14 to 20 months"},
		ranges.TwoThree: {exam.AnimalHorse, "25 to 40 months"},
	}
	for class, of := range ages {
		age, err := readAge(of.age)
		require.NoError(t, err)
		low, high := map[ranges.Measure]float64{}, map[ranges.Measure]float64{}
		for seed := range uint64(60) {
			c := Case{Name: "drawn", Horse: exam.Horse{Name: "Teal", Kind: of.kind}, Age: age, Temper: Calm}
			h, err := New(c, seed, opened(), table, rows)
			require.NoError(t, err, class)
			require.Equal(t, class, h.Class.Name, h.Animal.AgeWords(opened()))
			for _, m := range ranges.Measures() {
				step, _ := table.ByID(exam.StepID(m))
				row, ok := rows.Lookup(m, class, ranges.Unit(step.Unit))
				v, _ := h.Truth(exam.Key{Step: step.ID})
				if !ok {
					continue
				}
				level, _, _ := row.Level(v.Number.Value)
				assert.Equal(t, ranges.LevelUsual, level, "%s %s %v", class, m, v.Number)
				if seed == 0 {
					low[m], high[m] = v.Number.Value, v.Number.Value
				}
				low[m], high[m] = min(low[m], v.Number.Value), max(high[m], v.Number.Value)
			}
		}
		row, ok := rows.Lookup(ranges.HeartRate, class, ranges.PerMinute)
		if a, b := row.Usual.Low, row.Usual.High; ok && a != nil && b != nil {
			assert.Greater(t, high[ranges.HeartRate]-low[ranges.HeartRate], 0.6*(*b-*a), "%s: the draws spread over the range", class)
		}
	}
}

// A class without rows of its own draws from those that are lent to it.
func TestALentRangeIsDrawnFrom(t *testing.T) {
	c := Case{Name: "mule", Horse: exam.Horse{Name: "Teal", Kind: exam.AnimalMule}, Age: Age{7, 9, "months"}, Temper: Calm}
	h, err := New(c, 1, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	assert.Equal(t, ranges.MuleWeanling, h.Class.Name)
	v, ok := h.Truth(exam.Key{Step: "temp.rectal"})
	require.True(t, ok)
	assert.InDelta(t, 38.15, v.Number.Value, 0.65, "a weanling's 37.5 to 38.8 C")
}

func TestSameSeedSameHorse(t *testing.T) {
	for _, c := range builtInCases(t) {
		a, b := horse(t, c.Name, 9), horse(t, c.Name, 9)
		assert.Equal(t, a.truth, b.truth)
		assert.Equal(t, a.Animal, b.Animal)
		assert.Equal(t, a.Moments(), b.Moments())
		assert.Equal(t, a.Moves(0, 900), b.Moves(0, 900))
		assert.NotEqual(t, a.truth, horse(t, c.Name, 10).truth)
	}
}

// A horse made again from its stored visit is the same one; a changed case is refused.
func TestAgainFromTheRecord(t *testing.T) {
	a := horse(t, "tarn", 5)
	v := exam.Visit{OpenedAt: opened(), Horse: a.Animal, Source: a.Origin.String()}
	v.Horse.ID = "kept"
	b, err := Again(v, a.Case, steps.Table(), held(t))
	require.NoError(t, err)
	assert.Equal(t, a.truth, b.truth)
	assert.Equal(t, a.Beats(0, 60), b.Beats(0, 60))
	assert.Equal(t, exam.HorseID("kept"), b.Animal.ID)

	changed := a.Case
	changed.Digest = "0123456789ab"
	_, err = Again(v, changed, steps.Table(), held(t))
	require.ErrorContains(t, err, "was changed after this rehearsal")
	_, err = Again(v, horse(t, "clover", 1).Case, steps.Table(), held(t))
	require.ErrorContains(t, err, "not of clover")
	v.Source = "old-book.csv"
	_, err = Again(v, a.Case, steps.Table(), held(t))
	require.ErrorContains(t, err, "no rehearsal")
}

// One safe option each, a known source; one question a place and rehearsal, drawn by seed and shuffled; answered once.
func TestMoments(t *testing.T) {
	table, rows := steps.Table(), held(t)
	ids := map[string]bool{}
	for _, m := range moments() {
		assert.False(t, ids[m.ID], m.ID)
		ids[m.ID] = true
		_, ok := rows.Source(m.Source)
		assert.True(t, ok, m.ID)
		assert.Contains(t, places(), m.Place, m.ID)
		safe := 0
		for _, o := range m.Options {
			if o.Safe {
				safe++
			}
			assert.NotEmpty(t, o.Words)
		}
		assert.Equal(t, 1, safe, m.ID)
		assert.Len(t, m.Options, 3, m.ID)
		assert.NotEmpty(t, m.Why)
		for _, id := range m.steps {
			_, ok := table.ByID(id)
			assert.True(t, ok, "%s: %s", m.ID, id)
		}
	}
	assert.GreaterOrEqual(t, len(ids), 40)
	first, tails := map[int]bool{}, map[string]bool{}
	for seed := range uint64(40) {
		h := horse(t, "tarn", seed)
		ms := h.Moments()
		assert.GreaterOrEqual(t, len(ms), 4)
		at := map[string]int{}
		for _, m := range ms {
			at[m.Place]++
			assert.Contains(t, []string{"", "kicks"}, m.needs, "only its own caution")
			assert.False(t, m.young)
		}
		for place, n := range at {
			assert.Equal(t, 1, n, place)
		}
		assert.Equal(t, 1, at["card"], "its own caution")
		assert.Zero(t, at[needlePlace])
		tails[dangerAt(h, "tail")] = true
		first[slices.IndexFunc(ms[0].Options, func(o Option) bool { return o.Safe })] = true
	}
	assert.Len(t, first, 3, "the safe one stands anywhere")
	assert.Len(t, tails, 5, "every question of a place comes up")

	h, k := horse(t, "tarn", 1), exam.Key{Step: "limb.warmth", Site: exam.LeftFore}
	m, ok := h.MomentAt(k, exam.Visit{})
	require.True(t, ok)
	assert.Equal(t, "limbs", m.Place)
	bent, _ := m.Option("a")
	e := m.Entry(k.Site, bent)
	assert.Equal(t, exam.EntryNote, e.Kind)
	assert.Equal(t, notation.CleanNote(e.Note), e.Note)
	assert.True(t, IsOwnNote(e.Note))
	assert.False(t, IsOwnNote("stood well"))
	v := exam.Visit{Notes: []exam.VisitNote{{Text: e.Note, Step: e.Step, Site: e.Site, Seq: 4}}}
	assert.Equal(t, []Chosen{{Moment: m.ID, Option: "a", Step: "limb.warmth", Seq: 4}}, ChoicesIn(v))
	_, ok = h.MomentAt(k, v)
	assert.False(t, ok, "asked once")
	assert.Equal(t, "draw-back", h.AtInjection().ID)
}

// A calm horse moves less often than a nervous one.
func TestMoves(t *testing.T) {
	calm, nervous := horse(t, "clover", 1), horse(t, "merrow", 1)
	assert.Less(t, len(calm.Moves(0, 3600)), len(nervous.Moves(0, 3600)))
	kinds := map[MoveKind]bool{}
	for _, m := range nervous.Moves(0, 7200) {
		kinds[m.Kind] = true
	}
	assert.Len(t, kinds, 5)
}

// A newborn that is drawn healthy passes every published milestone in time (Walker, Austin, Lenz, the rule of 1, 2 and 3
// hours, as the score package holds them); the case whose foal nurses late is told by the same clock.
func TestMilestonesAgainstTheClockOfTheNewborn(t *testing.T) {
	level := func(c Case, seed uint64) (ranges.Level, int) {
		h, err := New(c, seed, opened(), steps.Table(), held(t))
		require.NoError(t, err)
		seen := map[string]time.Time{}
		for _, m := range h.Milestones() {
			seen[m.Name] = h.Animal.Birth.At.Add(m.After)
			assert.Contains(t, strings.ToLower(h.Told()), m.Name)
		}
		n, err := score.NewbornAt(h.Animal.Birth.At, seen, opened())
		require.NoError(t, err)
		return n.Level, len(seen)
	}
	for seed := range uint64(30) {
		c := Case{Name: "born", Reason: "born", Horse: exam.Horse{Name: "Teal", Kind: exam.AnimalHorse}, Age: Age{13, 22, "hours"}, Temper: Calm}
		l, n := level(c, seed)
		assert.Equal(t, ranges.LevelUsual, l, "seed %d", seed)
		assert.Equal(t, len(score.Milestones()), n)
		c.Age = Age{1, 1, "hours"}
		l, n = level(c, seed)
		assert.Equal(t, ranges.LevelUsual, l, "an hour old, and not everything is due")
		assert.Less(t, n, len(score.Milestones()))
	}
	h := horse(t, "plover", 2)
	l, _ := level(h.Case, 2)
	assert.Equal(t, ranges.LevelTell, l)
	assert.Contains(t, h.Told(), "Nurses after 3 h 35 min.")
	assert.Empty(t, horse(t, "clover", 1).Milestones())
	healthy, err := New(Case{Name: "born", Reason: "born", Horse: exam.Horse{Name: "Teal", Kind: exam.AnimalHorse}, Age: Age{13, 22, "hours"}, Temper: Calm}, 1, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	assert.Equal(t, "fresh", healthy.word(exam.Key{Step: "navel"}))
	assert.Equal(t, "meconium", healthy.word(exam.Key{Step: "manure"}))
}

// The steps of a newborn's milestones have the times of the case as their truth, and the card at the door shows them.
func TestMilestoneStepsAreTheCard(t *testing.T) {
	h := horse(t, "plover", 2)
	for _, m := range score.Milestones() {
		k := exam.Key{Step: m.Step}
		v, ok := h.Truth(k)
		require.True(t, ok, m.Name)
		require.NotNil(t, v.At, "%s: at 14 hours everything has happened", m.Name)
		assert.Contains(t, h.Look(k, 0).Words, v.At.Format("15:04"))
	}
	nurses, _ := h.Truth(exam.Key{Step: "foal.nurse"})
	assert.Equal(t, 215*time.Minute, nurses.At.Sub(h.Animal.Birth.At))
	step, _ := steps.Table().ByID("foal.nurse")
	for off, want := range map[time.Duration]bool{0: true, 4 * time.Minute: true, 6 * time.Minute: false, -10 * time.Minute: false} {
		right, _ := agrees(step, step.SeenAt(nurses.At.Add(off)), nurses)
		assert.Equal(t, want, right, off)
	}
	right, why := agrees(step, step.SeenAt(time.Time{}), nurses)
	assert.False(t, right)
	assert.Contains(t, why, "the time was to be had")
	_, ok := horse(t, "clover", 1).Truth(exam.Key{Step: "foal.nurse"})
	assert.False(t, ok)
	young := Case{Name: "born", Reason: "born", Horse: exam.Horse{Name: "Teal", Kind: exam.AnimalHorse}, Age: Age{1, 1, "hours"}, Temper: Calm}
	h, err := New(young, 3, opened(), steps.Table(), held(t))
	require.NoError(t, err)
	assert.Contains(t, h.Look(exam.Key{Step: "foal.urine"}, 0).Words, "is empty")
}
