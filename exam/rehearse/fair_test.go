package rehearse

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

// The marks that a fair teacher gives, written down before any of these trainees was played:
//
//   - perfect: every answer right, no fault, nothing to do better;
//   - passes over all: nothing right, nothing examined, the hand-off lacks everything;
//   - "usual" everywhere, after looking long enough: right just where the horse is usual, nothing that had to be found is;
//   - too fast (a second a place): what can be taken in by a glance is not held against anybody who glances, but no rhythm,
//     quadrant, murmur, lung, pulse, temperature and nothing felt counts as examined; a count of a second is no count;
//   - guesses dangers by the longest option: safe about once in three over many horses, not more;
//   - careful but wrong at one: one fault, the one made, and all else right.
func TestEveryTraineeGetsFairMarks(t *testing.T) {
	for _, c := range builtInCases(t) {
		h := horse(t, c.Name, 3)
		perfect := marked(t, h, c.Routine, Slips{})
		assert.InDelta(t, 100, perfect.Score.Percent, 1e-9, c.Name)
		none := marked(t, h, c.Routine, Slips{PassedAll: string(exam.ReasonNoTime)})
		assert.Less(t, none.Score.Percent, 35.0, "%s: only the dangers on the way", c.Name)
		assert.Equal(t, none.Count.Asked, none.Count.NotExamined, c.Name)
		usual := marked(t, h, c.Routine, Slips{UsualAll: true})
		for _, f := range usual.Findings {
			step, _ := h.table.ByID(f.Step)
			v, ok := step.UsualValue()
			truth, _ := h.Truth(exam.Key{Step: f.Step, Site: f.Site})
			if right, _ := agrees(step, v, truth); ok && step.Kind != exam.KindCount {
				assert.Equal(t, right, f.Right, "%s: usual at %s", c.Name, f.Name)
			}
			if ok && f.Level >= ranges.LevelRecheck && step.Kind != exam.KindCount {
				assert.False(t, f.Right, "%s: %s is not usual here", c.Name, f.Name)
			}
		}
		var lacks []string // what must be told and has a usual answer; where none is held it was examined, and so found
		for _, tell := range usual.Tell {
			step, _ := h.table.ByID(tell.Step)
			_, ok := step.UsualValue()
			assert.Equal(t, !ok, tell.Told, "%s: %s", c.Name, tell.Name)
			if ok {
				lacks = append(lacks, tell.Name+" (not found)")
			}
		}
		assert.ElementsMatch(t, lacks, usual.HandOff.Lacks, c.Name)
		assert.Equal(t, len(lacks) == 0, usual.HandOff.Complete, c.Name)
		if len(lacks) > 0 {
			assert.NotEmpty(t, usual.Better, c.Name)
		}
		fast := marked(t, h, c.Routine, Slips{HurriedS: 1})
		for _, f := range fast.Findings {
			step, _ := h.table.ByID(f.Step)
			if step.Kind == exam.KindCount {
				assert.NotEqual(t, OutcomeRight, f.Outcome, "%s: %s in a second", c.Name, f.Name)
				continue
			}
			if step.Kind == exam.KindTime {
				continue
			}
			assert.Equal(t, OutcomeNotExamined, f.Outcome, "%s: %s in a second", c.Name, f.Name)
			assert.NotEmpty(t, f.TooSoon, f.Name)
		}
		assert.LessOrEqual(t, fast.Tally().Right, 2, "%s: at most the times that were pressed", c.Name)
		wrong := exam.Key{Step: "gum.colour"}
		other := "pink"
		if h.word(wrong) == other {
			other = "brick"
		}
		careful := marked(t, h, c.Routine, Slips{Wrong: map[exam.Key]string{wrong: other}})
		tally := careful.Tally()
		assert.Equal(t, tally.Asked-1, tally.Right, c.Name)
	}
}

// Dangers by the longest option are right about once in three: over the horses of many seeds, well under half.
func TestTheLongestOptionIsNoGuide(t *testing.T) {
	safe, all := 0, 0
	for seed := range uint64(30) {
		m := marked(t, horse(t, builtInCases(t)[seed%9].Name, seed), "tpr-recheck", Slips{Option: longest})
		for _, s := range m.Safety {
			all++
			if s.Safe {
				safe++
			}
		}
	}
	require.Greater(t, all, 50)
	assert.InDelta(t, 1.0/3, float64(safe)/float64(all), 0.15, "%d of %d", safe, all)
}

func longest(m DangerMoment) Option {
	best := m.Options[0]
	for _, o := range m.Options {
		if len([]rune(o.Words)) > len([]rune(best.Words)) {
			best = o
		}
	}
	return best
}

// A pulse called after a second, a quadrant without listening, a rhythm after half a minute on an uneven heart: not
// examined, and the marks say how long it takes.
func TestAnswersAreEarned(t *testing.T) {
	h := horse(t, "merrow", 3)
	rhythm, gut := exam.Key{Step: "heart.rhythm"}, exam.Key{Step: "gut.sounds", Site: exam.RightUpper}
	word := func(id exam.StepID, key string) exam.Value {
		step, _ := h.table.ByID(id)
		v, err := step.ChoiceValue(key)
		require.NoError(t, err)
		return v
	}
	for _, c := range []struct {
		k       exam.Key
		v       exam.Value
		s       float64
		tooSoon bool
	}{
		{rhythm, word("heart.rhythm", "irregular"), 30, true},
		{rhythm, word("heart.rhythm", "irregular"), 60, false},
		{rhythm, word("heart.rhythm", "regular"), 1, true},
		{rhythm, word("heart.rhythm", "regular"), 30, false},
		{gut, word("gut.sounds", "heard"), 0, true},
		{gut, word("gut.sounds", "heard"), 59, true},
		{gut, word("gut.sounds", "heard"), 60, false},
		{gut, word("gut.sounds", "none"), 60, true},
		{gut, word("gut.sounds", "none"), 240, false},
		{exam.Key{Step: "limb.digitalpulse", Site: exam.LeftFore}, word("limb.digitalpulse", "faint"), 1, true},
		{exam.Key{Step: "limb.digitalpulse", Site: exam.LeftFore}, word("limb.digitalpulse", "faint"), 6, false},
	} {
		why := h.TooSoon(c.k, c.v, c.s)
		assert.Equal(t, c.tooSoon, why != "", "%v %v after %v s: %s", c.k, c.v.Words, c.s, why)
	}
	m := marked(t, h, "full-exam", Slips{HurriedS: 30, Wrong: map[exam.Key]string{rhythm: "irregular"}})
	assert.Contains(t, Text(m, 200), "listened for 30 s, it needs 60 s")
}

// A count by ear for 15 s is not right where a minute is asked, however near it came.
func TestAShortCountIsNotRight(t *testing.T) {
	h := evenClover(t)
	count := func(step exam.StepID, n int, window float64) string {
		m := &marker{horse: h}
		s, _ := h.table.ByID(step)
		return m.countShort(s, exam.Finding{Step: step, Value: exam.Value{Kind: exam.KindCount, Count: &exam.Count{Method: exam.CountByEar, WindowS: window, Counted: n}}})
	}
	assert.Contains(t, count("breath.rate", 7, 15), "full minute, or 10 breaths")
	assert.Empty(t, count("breath.rate", 12, 60))
	assert.Empty(t, count("heart.rate", 9, 15), "16 beats at most may stop at 15 s: FEI19")
	assert.Contains(t, count("heart.rate", 17, 15), "go on to 30 s")
	h = horse(t, "juniper", 2)
	assert.Contains(t, count("heart.rate", 9, 15), "full minute")
	tapped := exam.Finding{Step: "heart.rate", Value: exam.Value{Count: &exam.Count{Method: exam.CountTapped, TapsS: []float64{0, 1.5, 3, 4.5, 6}}}}
	step, _ := h.table.ByID("heart.rate")
	assert.Contains(t, (&marker{horse: h}).countShort(step, tapped), "tapped for 6 s")
}

// evenClover is one of the case whose heart needs no full minute.
func evenClover(t *testing.T) *Horse {
	t.Helper()
	for seed := range uint64(50) {
		if h := horse(t, "clover", seed); !h.doubtful() {
			return h
		}
	}
	require.Fail(t, "every heart is doubtful")
	return nil
}

// With what is heard played, nothing of it is told: the words before a choice by ear are the same for every truth. The
// pause of a dropped beat has its soft sound in most horses, and no other rhythm has any.
func TestWhatIsHeardIsNotTold(t *testing.T) {
	words := map[exam.Key]map[string]bool{}
	with, without := 0, 0
	for _, c := range builtInCases(t) {
		for seed := range uint64(20) {
			h := horse(t, c.Name, seed)
			for _, step := range h.table.All() {
				for _, k := range placesOf(step) {
					if step.Sense != exam.ByEar || step.Listen == exam.ListenNone {
						continue
					}
					if words[k] == nil {
						words[k] = map[string]bool{}
					}
					if _, ok := h.Truth(k); ok {
						words[k][h.Look(k, 0).Words] = true
					}
				}
			}
			thuds := h.Thuds(0, 120)
			switch {
			case h.every == 0:
				assert.Empty(t, thuds, c.Name)
			case len(thuds) > 0:
				with++
			default:
				without++
			}
		}
	}
	for k, all := range words {
		assert.LessOrEqual(t, len(all), 1, "%v: %v", k, all)
	}
	assert.Positive(t, with)
	assert.Positive(t, without)
}
