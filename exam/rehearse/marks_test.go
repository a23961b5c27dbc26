package rehearse

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// The marks come out the same when they are made again from the stored entries, with a horse made again from the record:
// from the case as its file has it, and from the horse's own, whichever of its truths was drawn.
func TestMarksComeFromTheRecordAlone(t *testing.T) {
	r, j := routineOf(t, "colic-check"), judging(t)
	tarn, _ := CaseNamed(builtInCases(t), "tarn")
	tells := map[int]bool{}
	for seed := range uint64(8) {
		h := horse(t, "tarn", seed)
		entries := rehearsal(t, h, r, Slips{Skip: "posture", Unsafe: "limbs"})
		first, err := Mark(h, r, entries, j)
		require.NoError(t, err)
		tells[len(first.Tell)] = true
		v, err := exam.Fold(entries)
		require.NoError(t, err)
		for _, c := range []Case{tarn, h.Case} {
			again, err := Again(v, c, steps.Table(), held(t))
			require.NoError(t, err)
			second, err := Mark(again, r, entries, j)
			require.NoError(t, err)
			assert.Equal(t, first, second, "seed %d", seed)
		}
	}
	assert.Len(t, tells, len(tarn.Variants), "every truth was marked: each has a number of its own to tell")

	h := horse(t, "tarn", 3)
	entries := rehearsal(t, h, r, Slips{Skip: "posture", Unsafe: "limbs"})
	_, err := Mark(horse(t, "tarn", 4), r, entries, j)
	require.ErrorContains(t, err, "not made with the horse")
	_, err = Mark(h, routineOf(t, "full-exam"), entries, j)
	require.ErrorContains(t, err, "made with the routine colic-check")
	_, err = Mark(h, r, entries[1:], j)
	require.ErrorIs(t, err, exam.ErrDamaged)
}

// A finger that is 5 % too fast is told by how much, against the beats of its own stretch; a steady one gets its lead and
// scatter in milliseconds (scatter of the script: 40 ms).
func TestCountsAreSetBesideTheTrueBeats(t *testing.T) {
	h := evenClover(t)
	m := marked(t, h, "tpr-recheck", Slips{})
	require.Len(t, m.Counts, 2)
	for _, c := range m.Counts {
		assert.True(t, c.Right)
		assert.Less(t, max(c.ErrorPerMin, -c.ErrorPerMin), 0.3)
		assert.Contains(t, c.Basis, "between your first and last tap")
	}
	beats := m.Counts[1]
	require.Equal(t, exam.StepID("heart.rate"), beats.Step)
	require.NotNil(t, beats.SigmaS)
	assert.InDelta(t, 0.04, *beats.SigmaS, 0.015)
	assert.InDelta(t, 0, *beats.BiasS, 0.03)

	fast := marked(t, h, "tpr-recheck", Slips{TapFactor: 1.05}).Counts[1]
	assert.InDelta(t, 0.05*fast.TruePerMin, fast.ErrorPerMin, 0.5)
	assert.InDelta(t, h.rate("heart.rate"), fast.TruePerMin, 2)
	ear := marked(t, h, "tpr-recheck", Slips{ByEar: true}).Counts[1]
	assert.Equal(t, exam.CountByEar, ear.Method)
	assert.InDelta(t, 2.1, ear.AllowedPerMin, 1e-9, "one count in 30 s is 2 a minute")
	assert.True(t, ear.Right)
	require.Equal(t, "waves", horse(t, "clover", 1).word(exam.Key{Step: "heart.rhythm"}))
	for _, seed := range []uint64{1, 2} { // waves; a murmur
		doubtful := horse(t, "clover", seed)
		require.True(t, doubtful.doubtful())
		full := marked(t, doubtful, "tpr-recheck", Slips{ByEar: true}).Counts[1]
		assert.InDelta(t, 1.05, full.AllowedPerMin, 1e-9, "such a heart is counted for 60 s, and one count of these is 1 a minute")
		assert.True(t, full.Right)
	}
	lost := marked(t, h, "tpr-recheck", Slips{NoClock: true}).Counts[1]
	assert.Equal(t, "its rate over the whole rehearsal", lost.Basis)
	assert.True(t, lost.Right)
	assert.Nil(t, lost.SigmaS)
}

// A foal's heart is too quick for a shaky hand to say how even it is; that is no fault of the count.
func TestACountTooFastToJudgeIsNotMarkedWrong(t *testing.T) {
	said := map[exam.Evenness]int{}
	for seed := range uint64(6) {
		h := horse(t, "plover", seed)
		r := routineOf(t, "newborn-foal")
		entries := played(t, h, r, Trainee{By: "Nell Harrow", To: "Dr. Olga Sommer", HandS: 0.08})
		for _, e := range entries {
			if e.Value != nil && e.Value.Count != nil && e.Step == "heart.rate" {
				said[e.Value.Count.Evenness]++
			}
		}
		m, err := Mark(h, r, entries, judging(t))
		require.NoError(t, err)
		assert.Empty(t, m.Faults(), "seed %d", seed)
		assert.Zero(t, wrongLines(m), "seed %d", seed)
	}
	assert.NotZero(t, said[exam.TooFastToJudge], "%v", said)
}

// One answer for all sites is set beside each of them.
func TestOneAnswerForAllSites(t *testing.T) {
	m := marked(t, horse(t, "clover", 2), "full-exam", Slips{Overall: map[exam.StepID]string{"gut.sounds": "heard", "hoof.heat": "even"}})
	assert.Empty(t, m.Faults())
	m = marked(t, horse(t, "dapple", 2), "full-exam", Slips{Overall: map[exam.StepID]string{"hoof.heat": "hot"}})
	own, _ := faultsOf(m)
	assert.Equal(t, []string{"finding: hoof.heat left hind", "finding: hoof.heat right hind"}, own)
}

func TestHandOffMustComeLastAndNameSomebody(t *testing.T) {
	m := marked(t, horse(t, "dapple", 2), "full-exam", Slips{Early: true})
	assert.True(t, m.HandOff.Done)
	assert.False(t, m.HandOff.Complete)
	assert.Contains(t, strings.Join(m.HandOff.Lacks, " "), "written after the hand-off")
	assert.Contains(t, m.Better[0], "Hand off again")
	healthy := marked(t, horse(t, "clover", 2), "full-exam", Slips{Silent: true})
	assert.False(t, healthy.HandOff.Needed)
	assert.Empty(t, healthy.Faults())
}

// A plunger that was not drawn back is a slip, whatever was answered elsewhere; one drawn back is none.
func TestAspirateLeftOut(t *testing.T) {
	for _, seen := range []exam.InjectionPhase{"", exam.InjectionClear} {
		h := horse(t, "clover", 2)
		m := &marker{horse: h, visit: exam.Visit{Injections: []exam.Injection{{State: exam.InjectionGiven, Attempts: []exam.NeedleAttempt{{Seen: seen}}}}}}
		m.markSafety()
		if seen == exam.InjectionClear {
			assert.Empty(t, m.out.Safety)
			continue
		}
		require.Len(t, m.out.Safety, 1)
		assert.Equal(t, "draw-back", m.out.Safety[0].Moment)
		assert.False(t, m.out.Safety[0].Safe)
		assert.Contains(t, m.saferNext(), "Stay safe at the injection: Pull the plunger out")
	}
}

// An unfinished rehearsal is marked as far as it went.
func TestUnfinished(t *testing.T) {
	m := marked(t, horse(t, "tarn", 1), "colic-check", Slips{Unfinished: 6})
	assert.False(t, m.Finished)
	assert.Len(t, m.Missed, 15)
	assert.Contains(t, Text(m, 80), "not finished")
	none := marked(t, horse(t, "tarn", 1), "colic-check", Slips{Skip: "heart.rate", Unfinished: 1})
	assert.Nil(t, none.Order.Tau)
	assert.NotPanics(t, func() { Text(none, 0) })
}

func TestTimes(t *testing.T) {
	m := marked(t, horse(t, "tarn", 1), "colic-check", Slips{})
	total := 0.0
	for _, s := range m.Times {
		total += s.Seconds
		if s.Step == "gut.sounds" {
			assert.InDelta(t, 4*250, s.Seconds, 60, "four minutes a quadrant, both sides of the horse together")
		}
	}
	assert.InDelta(t, m.TotalS, total+30, 1, "5 s to the context, 20 s to hand off, 5 s to close")
}

// No line is wider than asked, nothing but plain signs, and what matters is on it.
func TestTextFitsItsWidth(t *testing.T) {
	for _, c := range builtInCases(t) {
		h := horse(t, c.Name, 2)
		for _, s := range []Slips{{}, {Skip: "gum.moisture", TapFactor: 0.95, Unsafe: "limbs", Moved: "temp.rectal", Silent: true, Wrong: map[exam.Key]string{{Step: "gum.colour"}: "toxicline"}}} {
			m := marked(t, h, c.Routine, s)
			for _, width := range []int{0, 40, 60, 80, 100, 120} {
				text := Text(m, width)
				for _, line := range strings.Split(text, "\n") {
					require.LessOrEqual(t, ansi.StringWidth(line), max(width, LeastWidth), "%d: %q", width, line)
					assert.Equal(t, strings.TrimRight(line, " "), line)
				}
			}
			text := strings.Join(strings.Fields(Text(m, 120)), " ")
			assert.Contains(t, text, "(no real horse)")
			if len(m.Better) == 0 {
				assert.Contains(t, text, "nothing: all that the case asks was examined")
				continue
			}
			assert.Contains(t, text, "1. Stay safe at")
			assert.Contains(t, text, "out of order: temperature")
			assert.Contains(t, text, "Steps missed gum moisture")
			assert.Contains(t, text, "dark rim along the teeth")
		}
	}
}

func TestMarksAsJSON(t *testing.T) {
	m := marked(t, horse(t, "tarn", 2), "colic-check", Slips{Skip: "posture"})
	data, err := json.Marshal(m)
	require.NoError(t, err)
	var back map[string]any
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, MarksSchema, back["schema"])
	assert.True(t, strings.HasPrefix(string(data), `{"schema":`))
	for _, key := range []string{"case", "seed", "order", "missed", "counts", "findings", "must_tell", "hand_off", "safety", "better"} {
		assert.Contains(t, back, key)
	}
	assert.NotContains(t, string(data), ":null,\"out_of_order\"")
	for _, list := range []string{"missed", "sides_missed", "not_done", "times", "counts", "findings", "safety", "better", "remarks_missed"} {
		assert.IsType(t, []any{}, back[list], list)
	}
}

func TestAgreement(t *testing.T) {
	table := steps.Table()
	check := func(id exam.StepID, answer, truth string, want bool, why string) {
		t.Helper()
		step, _ := table.ByID(id)
		a, err := step.ReadAnswer(answer, step.Unit)
		require.NoError(t, err)
		b, err := step.ReadAnswer(truth, step.Unit)
		require.NoError(t, err)
		right, says := agrees(step, a, b)
		assert.Equal(t, want, right, "%s: %s, %s", id, answer, truth)
		assert.Equal(t, why, says)
	}
	check("temp.rectal", "38.4", "38.5", true, "")
	check("temp.rectal", "101.3F", "38.5", true, "")
	check("temp.rectal", "38.2", "38.5", false, "0.3 C too low, allowed 0.15 C")
	check("gum.refill", "1.7", "1.5", true, "")
	check("gum.refill", "2.6", "1.5", false, "1.1 s too high, allowed 0.3 s")
	check("weight.body", "515 kg", "500", true, "")
	check("weight.body", "560 kg", "500", false, "60 kg too high, allowed 25 kg")
	check("pain.grimace", "5", "6", false, "1 too low, allowed 0")
	check("condition.score", "5", "6", true, "one off, of the same weight")
	check("condition.score", "6", "7", false, "1 off on the scale")
	check("condition.score", "4.5", "5", true, "half a score off, of the same weight")
	check("condition.score", "6.5", "6", false, "0.5 off on the scale")
	check("condition.score", "5 5 5 5 5 5", "5", true, "")
	check("pain.grimace", "1 1 - 0 0 1", "1 1 0 0 0 1", false, "left out: tension above the eye")
	check("pain.grimace", "1 1 0 0 0 1", "1 0 0 0 0 1", false, "1 too high, allowed 0; true: lids tightened 0")
	check("pain.grimace", "1 1 0 0 0 0", "0 0 0 0 1 1", true, "")
	check("limb.digitalpulse", "none", "faint", true, "one off, of the same weight")
	check("heart.murmur", "2", "3", false, "1 off on the scale")
	check("gum.colour", "pale", "pale pink", false, "another word fits")
	check("pain.signs", "flank, paws", "paws, flank", true, "")
	check("pain.signs", "flank, lip", "flank, paws", false, "left out: paws; not there: curls its lip, yawns again and again")
	step, _ := table.ByID("temp.rectal")
	over := exam.Value{Kind: step.Kind, Number: &notation.Quantity{Value: 38, Unit: notation.Celsius}, Bound: exam.Over}
	right, _ := agrees(step, over, exam.Value{Kind: step.Kind, Number: &notation.Quantity{Value: 38, Unit: notation.Celsius}})
	assert.False(t, right, "only a bound is known")
}

// A remark that is raised less urgently than the truth calls for does not stand for it.
func TestALesserRemarkIsNotEnough(t *testing.T) {
	site := exam.Key{Step: "limb.digitalpulse", Site: exam.LeftFore}
	m := marked(t, horse(t, "dapple", 2), "full-exam", Slips{Wrong: map[exam.Key]string{site: "strong"}})
	require.NotEmpty(t, m.Unraised)
	assert.Contains(t, m.Unraised, RemarkMark{
		Place: Place{Step: site.Step, Site: site.Site, Name: "digital pulse, left fore"}, Level: ranges.LevelTell, Value: "4 bounding",
		Why: "A bounding digital pulse is told at once; do not make it walk.", Source: held(t).Cite("VPRAC"),
	})
}

// Of two counts each has its own clock: the last one written before the finding.
func TestEachCountHasItsClock(t *testing.T) {
	k := exam.Key{Step: "heart.rate"}
	var v exam.Visit
	for i, zero := range []float64{60.5, 200.25} {
		e := ClockEntry(k, zero)
		v.Notes = append(v.Notes, exam.VisitNote{Text: e.Note, Step: e.Step, Site: e.Site, Seq: 3 + 4*i})
	}
	for seq, want := range map[int]float64{4: 60.5, 6: 60.5, 8: 200.25} {
		at, ok := clockOf(v, k, seq)
		assert.True(t, ok)
		assert.InDelta(t, want, at, 1e-9)
	}
	_, ok := clockOf(v, k, 2)
	assert.False(t, ok)
	_, ok = clockOf(v, exam.Key{Step: "breath.rate"}, 9)
	assert.False(t, ok)
}
