package authorization_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// The whole way: locked at every step that begins something, open to every line
// that says what happened.
func TestAdmit(t *testing.T) {
	v := newVisit(t)
	entry := func(l exam.InjectionLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryInjection, At: v.at, Injection: &l}
	}
	ready := exam.InjectionLine{Phase: exam.InjectionReady, Order: order()}
	needle := exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}
	require.ErrorIs(t, authorization.CheckEntry(v.fold(), nil, entry(ready)), exam.ErrRefused)
	v.temperature(39.6)
	v.decide(goAhead("Vaccine A"))
	require.NoError(t, authorization.CheckEntry(v.fold(), telling(), entry(ready)))
	require.NoError(t, v.inject(ready))
	require.NoError(t, authorization.CheckEntry(v.fold(), telling(), entry(needle)))

	v.temperature(39.8)
	require.ErrorIs(t, authorization.CheckEntry(v.fold(), telling(), entry(needle)), exam.ErrRefused, "a new finding for the vet locks again")
	require.NoError(t, authorization.CheckDecided(v.fold(), entry(needle)), "a store knows no ranges")
	v.decide(goAhead("Vaccine A"))
	require.NoError(t, v.inject(needle))
	v.temperature(39.9)
	for _, l := range []exam.InjectionLine{
		{Phase: exam.InjectionBlood},
		{Phase: exam.InjectionClear},
		{Phase: exam.InjectionStopped, Why: "it moved"},
		{Phase: exam.InjectionGiven, VolumeML: 1, Afterwards: true},
	} {
		require.NoError(t, authorization.CheckEntry(v.fold(), telling(), entry(l)), "what happened can be written down: %s", l.Phase)
	}
	var refusal *notation.Refusal
	require.ErrorAs(t, authorization.CheckEntry(v.fold(), nil, entry(exam.InjectionLine{Phase: exam.InjectionStopped})), &refusal)
	require.ErrorAs(t, authorization.CheckEntry(v.fold(), nil, exam.Entry{Decision: &exam.Decision{}}), &refusal)
	require.NoError(t, authorization.CheckEntry(v.fold(), nil, exam.Entry{Kind: exam.EntryNote, Note: "x"}))
	late := entry(ready)
	late.Corrects = 3
	require.NoError(t, authorization.CheckEntry(v.fold(), nil, late), "a correction of what was said")
}

// A visit is not closed over an open needle or a running watch.
func TestCheckClose(t *testing.T) {
	v := newVisit(t)
	require.NoError(t, authorization.CheckClose(v.fold(), v.fold().OpenedAt))
	v.decide(goAhead("Vaccine A"))
	refused := func(says string) {
		t.Helper()
		var refusal *notation.Refusal
		require.ErrorAs(t, authorization.CheckEntry(v.fold(), nil, exam.Entry{Kind: exam.EntryClosed, At: v.at}), &refusal)
		require.Contains(t, refusal.Why, says)
	}
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: order()}))
	require.NoError(t, authorization.CheckClose(v.fold(), v.fold().OpenedAt), "an order alone is no needle")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}))
	refused("injection of Vaccine A")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionClear}))
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}))
	require.NoError(t, authorization.CheckClose(v.fold(), v.fold().OpenedAt))
	v.add(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	refused("under observation until 09:2")
	v.add(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchLeftEarly, Why: "called away"}})
	require.NoError(t, authorization.CheckClose(v.fold(), v.fold().OpenedAt))
	v.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count"}}})
	v.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular"}}})
	refused("a needle was inserted for blood and not")
}
