package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// twoLaptops folds lines of a visit; unseen names, by line, the ones before it that its
// writer did not hold.
func twoLaptops(t *testing.T, lines ...exam.Entry) exam.Visit {
	t.Helper()
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	all := append([]exam.Entry{{Kind: exam.EntryOpened, Opening: &exam.Opening{}}}, lines...)
	var prev exam.Hash
	for i := range all {
		all[i].Visit, all[i].Seq, all[i].Prev, all[i].At = "v", i+1, prev, at.Add(time.Duration(i)*time.Minute)
		require.NoError(t, exam.Seal(&all[i]))
		prev = all[i].Hash
	}
	v, err := exam.Fold(all)
	require.NoError(t, err)
	return v
}

func heart(bpm float64, corrects int, unseen ...int) exam.Entry {
	return exam.Entry{
		Kind: exam.EntryFinding, Step: "heart.rate", Corrects: corrects, Unseen: unseen,
		Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: bpm, Unit: notation.PerMinute}},
	}
}

func standing(v exam.Visit) []float64 {
	f, _ := v.Finding(exam.Key{Step: "heart.rate"})
	var out []float64
	for _, s := range f.Standing() {
		out = append(out, s.Value.Number.Value)
	}
	return out
}

// The rules of shared/facts/sharing.md, section 3: each correction names what it replaces;
// what nobody replaced stands; a person settles by naming all.
func TestAnswersThatDidNotSeeEachOtherBothStand(t *testing.T) {
	for name, c := range map[string]struct {
		lines []exam.Entry
		want  []float64
	}{
		"one laptop corrects":            {[]exam.Entry{heart(44, 0), heart(48, 2)}, []float64{48}},
		"one laptop answers again":       {[]exam.Entry{heart(44, 0), heart(48, 0)}, []float64{48}},
		"it names one corrected already": {[]exam.Entry{heart(44, 0), heart(48, 2), heart(52, 2)}, []float64{52}},
		"two correct one":                {[]exam.Entry{heart(44, 0), heart(48, 2), heart(60, 2, 3)}, []float64{60, 48}},
		"two answer first":               {[]exam.Entry{heart(44, 0), heart(60, 0, 2)}, []float64{60, 44}},
		"a third knows one":              {[]exam.Entry{heart(44, 0), heart(60, 0, 2), heart(52, 2, 3)}, []float64{52, 60}},
		"a third knows both, names one":  {[]exam.Entry{heart(44, 0), heart(60, 0, 2), heart(52, 2)}, []float64{52, 60}},
		"a third knows both":             {[]exam.Entry{heart(44, 0), heart(60, 0, 2), heart(52, 0)}, []float64{52}},
	} {
		t.Run(name, func(t *testing.T) {
			v := twoLaptops(t, c.lines...)
			assert.Equal(t, c.want, standing(v))
			assert.Equal(t, len(c.want) > 1, len(v.Unsettled()) == 1)
		})
	}

	settles := heart(52, 3)
	settles.Settles = []int{4}
	v := twoLaptops(t, heart(44, 0), heart(48, 2), heart(60, 2, 3), settles)
	assert.Equal(t, []float64{52}, standing(v))
	assert.Empty(t, v.Unsettled())
	f, _ := v.Finding(exam.Key{Step: "heart.rate"})
	var chain [][2]int
	for _, c := range f.Corrections() {
		chain = append(chain, [2]int{c[0].Seq, c[1].Seq})
	}
	assert.Equal(t, [][2]int{{2, 3}, {3, 5}, {4, 5}}, chain, "each with what replaced it first")

	same := twoLaptops(t, heart(44, 0), heart(48, 2), heart(48, 2, 3))
	assert.Empty(t, same.Unsettled(), "both say the same: nobody is asked")
}

// A value stands before a reason why there is none, whichever came last: whoever reads the
// first answer alone must not think that nobody looked.
func TestAValueStandsBeforeNotDone(t *testing.T) {
	refused := exam.Entry{Kind: exam.EntryNotDone, Step: "heart.rate", Reason: string(exam.ReasonRefused), Unseen: []int{2}}
	v := twoLaptops(t, heart(60, 0), refused)
	f, ok := v.Finding(exam.Key{Step: "heart.rate"})
	require.True(t, ok)
	assert.True(t, f.Done())
	assert.True(t, f.Disputed())
	require.Len(t, f.Differ, 1)
	assert.Equal(t, exam.ReasonRefused, f.Differ[0].NotDone)

	v = twoLaptops(t, heart(60, 0), refused, heart(64, 0))
	f, _ = v.Finding(exam.Key{Step: "heart.rate"})
	assert.Equal(t, []float64{64}, standing(v), "who knew of both settles it")
	assert.Len(t, f.Before, 2)
}

// What stands beside a finding is shown in the unit in which the finding is.
func TestAllThatStandsIsInOneUnit(t *testing.T) {
	celsius := func(v float64) exam.Value {
		return exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}}
	}
	steps := exam.NewSteps([]exam.Step{{ID: "temp.rectal", Kind: exam.KindNumber, Unit: notation.Celsius, Units: []notation.Unit{notation.Celsius, notation.Fahrenheit}, Decimals: 1}})
	v := exam.Visit{Findings: []exam.Finding{{Step: "temp.rectal", Value: celsius(38), Differ: []exam.Finding{{Step: "temp.rectal", Value: celsius(41)}}}}}
	shown := v.As(notation.Units{notation.Celsius: notation.Fahrenheit}, steps).Findings[0]
	assert.Equal(t, notation.Fahrenheit, shown.Value.Number.Unit)
	assert.Equal(t, notation.Fahrenheit, shown.Differ[0].Value.Number.Unit)
}

func TestWhatWasNotKnownIsSaid(t *testing.T) {
	dose := func(unseen ...int) exam.Entry {
		return exam.Entry{Kind: exam.EntryInjection, Unseen: unseen, Injection: &exam.InjectionLine{
			Phase: exam.InjectionGiven, VolumeML: 5, Order: &exam.Order{Product: "Product A"},
		}}
	}
	first, second := dose(), dose(2)
	first.Injection.Number, second.Injection.Number = 1, 2
	decision := exam.Entry{Kind: exam.EntryDecision, Unseen: []int{2}, Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}}
	closing := exam.Entry{Kind: exam.EntryClosed, Unseen: []int{3}}
	late := exam.Entry{Kind: exam.EntryNote, Note: "restless", Unseen: []int{5}}

	v := twoLaptops(t, first, second, decision, closing, late)
	require.Len(t, v.Injections, 2, "both went in")
	assert.Equal(t, []int{2}, v.Injections[0].Unaware)
	assert.Equal(t, []int{1}, v.Injections[1].Unaware)
	assert.False(t, v.Decisions[0].Known().Has(2))
	assert.True(t, v.Decisions[0].Known().Has(3))
	assert.Equal(t, []exam.Unsettled{
		{Kind: exam.UnsettledNeedles, Seqs: []int{2, 3}},
		{Kind: exam.UnsettledDecision, Seqs: []int{2, 4}},
		{Kind: exam.UnsettledClosing, Seqs: []int{3, 5, 6}},
	}, v.Unsettled())

	again := exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}}
	looked := exam.Entry{Kind: exam.EntryNote, Note: "seen", Settles: []int{3, 5, 6}}
	assert.Empty(t, twoLaptops(t, first, second, decision, closing, late, again, looked).Unsettled())
}
