package rehearse

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

func marked(t testing.TB, h *Horse, routine string, s Slips) Marks {
	t.Helper()
	r := routineOf(t, routine)
	m, err := Mark(h, r, rehearsal(t, h, r, s), judging(t))
	require.NoError(t, err)
	return m
}

// A trainee who does everything right, from what the horse shows alone, has no fault: in every case, over seeds, and in
// the full exam as well as in the case's own routine.
func TestAPerfectTraineeHasNoFault(t *testing.T) {
	for _, c := range builtInCases(t) {
		for seed := range seeds(8) {
			h := horse(t, c.Name, seed)
			for _, routine := range []string{c.Routine, "full-exam"} {
				m := marked(t, h, routine, Slips{})
				assert.Empty(t, m.Faults(), "%s, seed %d, %s", c.Name, seed, routine)
				assert.Empty(t, m.Better)
				assert.Empty(t, m.NoCause)
				assert.Zero(t, wrongLines(m), "%s, seed %d, %s", c.Name, seed, routine)
				assert.True(t, m.Finished)
				assert.InDelta(t, 1, *m.Order.Tau, 0)
				assert.Zero(t, m.Order.Edits)
			}
		}
	}
}

// wrongLines counts the lines of the page that are marked as wrong.
func wrongLines(m Marks) int {
	n := 0
	for _, b := range Page(m) {
		for _, l := range b.Lines {
			if l.Fault {
				n++
			}
		}
	}
	return n
}

// fault is one slip on purpose and the faults that must come of it, remarks apart.
type fault struct {
	name  string
	slips Slips
	want  []string
}

// faultsFor are slips that every case's routine allows.
func faultsFor(h *Horse) []fault {
	other := "pink"
	if h.word(exam.Key{Step: "gum.colour"}) == "pink" {
		other = "brick"
	}
	side := exam.Key{Step: "limb.warmth", Site: exam.RightHind}
	out := []fault{
		{"a step left out", Slips{Skip: "breath.effort"}, []string{"step missed: breath.effort"}},
		{"a side left out", Slips{Side: side}, []string{"side missed: limb.warmth right hind"}},
		{"taps 5 % too fast", Slips{TapFactor: 1.05}, []string{"count: heart.rate"}},
		{"taps 5 % too slow", Slips{TapFactor: 0.95}, []string{"count: heart.rate"}},
		{"wrong gum color", Slips{Wrong: map[exam.Key]string{{Step: "gum.colour"}: other}}, []string{"finding: gum.colour"}},
		{"not safe at the tail", Slips{Unsafe: "tail"}, []string{"safety: " + dangerAt(h, "tail")}},
		{"not safe at a limb", Slips{Unsafe: "limbs"}, []string{"safety: " + dangerAt(h, "limbs")}},
		{"temperature last", Slips{Moved: "temp.rectal"}, []string{"order: temp.rectal"}},
		{"another half hour", Slips{Context: []exam.State{exam.StateExcited}}, []string{"context:"}},
		{"passed over without need", Slips{Passed: exam.Key{Step: "gum.moisture"}}, []string{"not done: gum.moisture"}},
	}
	if len(h.Case.Tell) > 0 {
		out = append(out, fault{"no hand-off", Slips{Silent: true}, []string{"hand-off:"}})
	}
	for i, f := range out {
		// What must be found and is not also leaves the hand-off incomplete.
		if slices.ContainsFunc(h.Case.Tell, func(k exam.Key) bool { return touched(f.slips, k) }) {
			out[i].want = append(out[i].want, "hand-off:")
		}
		slices.Sort(out[i].want)
	}
	return out
}

// dangerAt is the danger question that a horse brings up at a place.
func dangerAt(h *Horse, place string) string {
	for _, m := range h.Moments() {
		if m.Place == place {
			return m.ID
		}
	}
	return "none"
}

// touched says that the slips spoil a place.
func touched(s Slips, k exam.Key) bool {
	_, wrong := s.Wrong[k]
	return wrong || k.Step == s.Skip || k == s.Side || k == s.Passed || (s.TapFactor > 0 && k.Step == "heart.rate")
}

// wanted are the faults that a slip must give. A rate that is measured off at its true level was told rightly: that is
// a fault of the count and none of the hand-off.
func wanted(m Marks, f fault) []string {
	off := f.slips.TapFactor > 0 && slices.ContainsFunc(m.Tell, func(x TellMark) bool {
		return x.Step == "heart.rate" && x.Outcome == OutcomeMeasuredOff
	})
	if !off {
		return f.want
	}
	return slices.DeleteFunc(slices.Clone(f.want), func(w string) bool { return w == "hand-off:" })
}

// Known slips give exactly those faults, one by one, for every built-in case; a remark that is missing has to do with
// the very place that was spoilt.
func TestKnownFaultsAreReportedAndNoOthers(t *testing.T) {
	for _, c := range builtInCases(t) {
		for seed := range seeds(3) {
			h := horse(t, c.Name, seed)
			for _, f := range faultsFor(h) {
				m := marked(t, h, c.Routine, f.slips)
				own, _ := faultsOf(m)
				assert.Equal(t, wanted(m, f), own, "%s, seed %d: %s", c.Name, seed, f.name)
				for _, r := range m.Unraised {
					places := append([]Place{r.Place}, r.Of...)
					assert.True(t, slices.ContainsFunc(places, func(p Place) bool {
						return touched(f.slips, exam.Key{Step: p.Step, Site: p.Site})
					}), "%s: %s, %s", c.Name, f.name, r.Why)
				}
				if len(wanted(m, f)) > 0 {
					assert.NotEmpty(t, m.Better, "%s: %s", c.Name, f.name)
					assert.Greater(t, wrongLines(m), len(m.Better), "%s: %s: a fault is told where its mark stands", c.Name, f.name)
				}
				assert.LessOrEqual(t, len(m.Better), 3)
			}
		}
	}
}

// All of them together: the same faults, and three things to do better that begin with what can hurt somebody.
func TestAllFaultsTogether(t *testing.T) {
	for _, c := range builtInCases(t) {
		h := horse(t, c.Name, 5)
		var s Slips
		var want []string
		for _, f := range faultsFor(h) {
			switch {
			case f.slips.Skip != "":
				s.Skip = f.slips.Skip
			case f.slips.Side.Step != "":
				s.Side = f.slips.Side
			case f.slips.TapFactor == 0.95:
				s.TapFactor = 0.95
			case f.slips.Wrong != nil:
				s.Wrong = f.slips.Wrong
			case f.slips.Unsafe == "limbs":
				s.Unsafe = "limbs"
			case f.slips.Moved != "":
				s.Moved = f.slips.Moved
			case f.slips.Context != nil:
				s.Context = f.slips.Context
			case f.slips.Silent:
				s.Silent = true
			default:
				continue
			}
			for _, w := range f.want {
				if !slices.Contains(want, w) {
					want = append(want, w)
				}
			}
		}
		slices.Sort(want)
		m := marked(t, h, c.Routine, s)
		own, _ := faultsOf(m)
		if m.HandOff.Needed && !slices.Contains(want, "hand-off:") {
			want = append(want, "hand-off:")
			slices.Sort(want)
		}
		assert.Equal(t, want, own, c.Name)
		require.Len(t, m.Better, 3, c.Name)
		assert.Contains(t, m.Better[0], "Stay safe at")
	}
}

// What a case says must be told is what the judge raises at recheck or above on its truth, and the other way round.
func TestCasesSayWhatTheJudgeSays(t *testing.T) {
	j, table := judging(t), steps.Table()
	for _, c := range builtInCases(t) {
		for seed := range seeds(10) {
			h := horse(t, c.Name, seed)
			m := &marker{horse: h, routine: routineOf(t, c.Routine).For(h.Class, table), judge: j, levels: map[exam.Key]exam.Level{}}
			m.visit = exam.Visit{Horse: h.Animal, OpenedAt: opened()}
			m.makeTruth()
			spoken := map[exam.Key]bool{}
			for _, r := range j.Visit(m.truth, nil).Remarks {
				if r.Level.String() == "note" {
					continue
				}
				for _, k := range append(r.Of, exam.Key{Step: r.Step, Site: r.Site}) {
					spoken[k] = true
				}
			}
			for _, k := range h.Case.Tell {
				assert.True(t, spoken[k], "%s, seed %d: %s %s must be told, and no remark says so", c.Name, seed, k.Step, k.Site)
				assert.Contains(t, h.Case.Find, k, c.Name)
			}
			for _, k := range h.Case.Find {
				assert.Positive(t, m.levels[k], "%s, seed %d: %s is to be found and is usual", c.Name, seed, k.Step)
			}
			if len(h.Case.Tell) == 0 {
				assert.Empty(t, spoken, "%s, seed %d", c.Name, seed)
			}
		}
	}
}
