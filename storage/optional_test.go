package storage_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Fields that entries gained since the first records: each is written through a real
// record and comes back the same from the entries and from the snapshot, of the open
// visit, of the closed one, and after the file was opened again.
func TestOptionalFieldsComeBackFromASnapshot(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v, err := r.Begin(opened(h.ID, day()))
	require.NoError(t, err)
	hour := time.Date(2026, 3, 1, 20, 0, 0, 0, day().Location())
	before := hour.Add(-14 * time.Hour)
	put := func(e exam.Entry) {
		t.Helper()
		e.Visit, e.By, e.At = v.ID, "Ann", day()
		_, err := r.Append(e)
		require.NoError(t, err)
	}
	inject := func(l exam.InjectionLine) {
		t.Helper()
		put(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	}
	put(exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{Medicines: []exam.Medicine{exam.ForPain, exam.ToCalm}, Given: "a paste at six"}})
	put(exam.Entry{Kind: exam.EntryFinding, Step: "weight", Value: &exam.Value{
		Kind: exam.KindWeight, Number: &notation.Quantity{Value: 500, Unit: notation.Kilograms}, Weight: &exam.Weight{LowKg: 460, HighKg: 540, BandPercent: 90},
	}})
	put(exam.Entry{
		Kind: exam.EntryDecision, Recheck: &exam.RecheckLine{On: "2026-03-01", What: "heart rate", Time: &hour},
		Decision: &exam.Decision{Words: "twice", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{
			{Kind: exam.Injecting, Product: "Vaccine", Dose: "1 mL", Route: exam.RouteIM, Times: 2, HoursApart: 6, Sites: 2},
			{Kind: exam.Drawing, For: "blood count"},
		}},
	})
	put(exam.Entry{Kind: exam.EntryNote, Note: "consent", Formality: &exam.Formality{Consent: &exam.Consent{By: "J. Marlowe", For: "sedation", How: exam.ConsentSaid}}})
	put(exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-02", What: "wound"}})
	order := exam.Order{Product: "Vaccine", Dose: "1 mL", Route: exam.RouteIM, VolumeML: 0.5, VolumeFrom: "as ordered", SyringeML: 3, MarkML: 0.1, Decision: 4}
	inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: &order})
	inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}})
	inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionClear})
	inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1.5, Product: "Vaccine B", Route: exam.RouteSC})
	put(exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchDeclined, Why: "the owner observes, and knows what to look for"}})
	inject(exam.InjectionLine{Number: 2, Phase: exam.InjectionGiven, VolumeML: 2, GivenAt: &before, Order: &exam.Order{
		Product: "Product E", Dose: "2 mL", Route: exam.RouteIV, Without: exam.Emergency, Vet: "Dr Vale", How: exam.Here, Emergency: "it fell",
	}})

	same := func() exam.Visit {
		t.Helper()
		entries, err := r.Entries(v.ID)
		require.NoError(t, err)
		want, err := exam.Fold(entries)
		require.NoError(t, err)
		got, err := r.Visit(v.ID)
		require.NoError(t, err)
		require.Equal(t, want, got)
		return got
	}
	same()
	end := closing(v.ID, hour)
	end.WithoutHandOff = "the veterinarian knows it already"
	_, err = r.Append(end)
	require.NoError(t, err)
	same()
	require.NoError(t, r.Close())
	r = openRecord(t, dir)
	got := same()

	assert.Equal(t, exam.KnownAlready, got.WithoutHandOff)
	assert.Equal(t, []exam.Medicine{exam.ForPain, exam.ToCalm}, got.Context.Medicines)
	assert.Equal(t, "a paste at six", got.Context.Given)
	assert.Equal(t, 90, got.Findings[0].Value.Weight.BandPercent)
	require.Len(t, got.Rechecks, 2)
	require.NotNil(t, got.Rechecks[0].Time)
	assert.Equal(t, "2026-03-01T20:00:00+05:45", got.Rechecks[0].Time.Format(time.RFC3339), "the hour, with its offset")
	assert.Nil(t, got.Rechecks[1].Time)
	require.Len(t, got.Decisions, 1)
	assert.Equal(t, exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine", Dose: "1 mL", Route: exam.RouteIM, Times: 2, HoursApart: 6, Sites: 2}, got.Decisions[0].Covers[0])
	assert.Equal(t, "blood count", got.Decisions[0].Covers[1].For)
	require.Len(t, got.Injections, 2)
	order.DecisionLine = got.Injections[0].Order.DecisionLine
	assert.Len(t, string(order.DecisionLine), 64, "the decision is named by its identity")
	assert.Equal(t, order, got.Injections[0].Order)
	assert.Equal(t, "Vaccine B", got.Injections[0].GivenProduct)
	assert.Equal(t, exam.RouteSC, got.Injections[0].GivenRoute)
	second := got.Injections[1].Order
	assert.Equal(t, []string{string(exam.Emergency), "Dr Vale", string(exam.Here), "it fell"}, []string{string(second.Without), second.Vet, string(second.How), second.Emergency})
	assert.True(t, got.Injections[1].EndAt.Equal(before), "when it was given, not when it was written down")
	require.Len(t, got.Watches, 1)
	assert.Equal(t, exam.WatchDeclined, got.Watches[0].State)
	assert.Equal(t, exam.OwnerObserves, got.Watches[0].Why)
}
