package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

func checkDecided(t *testing.T, s exam.Store) {
	v := begun(t, s, saved(t, s, "Bracken"), noon())
	at := noon().Add(time.Hour)
	inject := func(l exam.InjectionLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Visit: v.ID, Kind: exam.EntryInjection, At: at, By: "Ann", Injection: &l}
	}
	ready := inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: &exam.Order{Product: "Vaccine A", Dose: "2 mL", VolumeML: 2, Route: exam.RouteIM}})
	needle := inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck"}})
	given := inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1})
	draw := exam.Entry{Visit: v.ID, Kind: exam.EntryDraw, At: at, By: "Ann", Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count"}}}
	disguised := ready
	disguised.Kind, disguised.Note = exam.EntryNote, "just a note"
	for _, e := range []exam.Entry{ready, needle, given, draw, disguised} {
		_, err := s.Append(e)
		require.ErrorIs(t, err, exam.ErrRefused, "%s", e.Kind)
	}
	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, 1, back.Entries, "nothing was saved")

	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryDecision, At: at, By: "Ann", Decision: &exam.Decision{
		Words: "give it", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "vaccine a", Dose: "2 mL"}},
	}})
	_, err = s.Append(draw)
	require.ErrorIs(t, err, exam.ErrRefused, "a decision for an injection covers no draw")
	tenfold := *ready.Injection
	tenfold.Order = &exam.Order{Product: "Vaccine A", Dose: "2 mL", VolumeML: 20, Route: exam.RouteIM}
	over := ready
	over.Injection = &tenfold
	_, err = s.Append(over)
	require.ErrorIs(t, err, exam.ErrDiffers, "the order is a limit")
	appended(t, s, ready)
	again := *ready.Injection
	again.Number = 2
	second := ready
	second.Injection = &again
	_, err = s.Append(second)
	require.ErrorIs(t, err, exam.ErrRefused, "one order is one dose")
	appended(t, s, needle)
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryDecision, At: at, By: "Ann", Decision: &exam.Decision{
		Words: "leave it", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.Stop,
	}})
	_, err = s.Append(needle)
	require.ErrorIs(t, err, exam.ErrRefused, "the newest decision counts")
	appended(t, s, inject(exam.InjectionLine{Phase: exam.InjectionStopped, VolumeML: 0.3, Why: "the vet said stop"}))
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryInjection, At: at, By: "Ann", Injection: &exam.InjectionLine{
		Number: 2, Phase: exam.InjectionNoted, On: "2025", Order: &exam.Order{Product: "Vaccine B"},
	}})
	aloud := exam.Order{Product: "Product C", Route: exam.RouteIV, Dose: "5 mL", Without: exam.Emergency, Vet: "Dr Vale", How: exam.ByTelephone}
	lazy := inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 5, Order: &aloud})
	lazy.Injection.Number = 3
	_, err = s.Append(lazy)
	require.ErrorIs(t, err, exam.ErrRefused, "an order aloud says what the emergency was")
	aloud.Emergency = "down, seizure"
	appended(t, s, lazy)

	back, err = s.Visit(v.ID)
	require.NoError(t, err)
	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	folded, err := exam.Fold(entries)
	require.NoError(t, err)
	assert.Equal(t, folded, back)
	require.Len(t, back.Injections, 3)
	assert.Equal(t, exam.InjectionStopped, back.Injections[0].State)
}
