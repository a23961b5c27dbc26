package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// drawLines gives an entry a payload of its kind, in order or not: a record is
// read whole whatever was written.
func drawLines(t *rapid.T, e *exam.Entry) {
	place := exam.NeedlePlace{Site: "neck", Side: exam.Left, Words: drawText(t, "place")}
	number := rapid.IntRange(0, 3).Draw(t, "number")
	ml := rapid.Float64Range(0, 50).Draw(t, "ml")
	switch e.Kind {
	case exam.EntryHandedOff:
		e.HandOff = &exam.HandOffLine{To: drawText(t, "to"), How: exam.ByTelephone, ReadBack: rapid.Bool().Draw(t, "read back")}
	case exam.EntryDecision:
		d := &exam.Decision{Words: drawText(t, "words"), Vet: "Dr Vale", How: exam.Here, Ruling: rapid.SampledFrom(exam.Rulings()).Draw(t, "ruling")}
		if rapid.Bool().Draw(t, "covers") {
			d.Covers = []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Vaccine"}, {Kind: exam.Drawing}}
		}
		if rapid.Bool().Draw(t, "until") {
			until := drawTime(t)
			d.Until = &until
		}
		e.Decision = d
		e.Recheck = &exam.RecheckLine{On: "2026-04-01", What: drawText(t, "what")}
		if rapid.Bool().Draw(t, "hour") {
			hour := drawTime(t)
			e.Recheck.Time = &hour
		}
	case exam.EntryInjection:
		e.Injection = &exam.InjectionLine{
			Number: number, Phase: rapid.SampledFrom(exam.InjectionPhases()).Draw(t, "phase"), Place: place, VolumeML: ml, Sign: drawText(t, "sign"),
		}
		if rapid.Bool().Draw(t, "order") {
			e.Injection.Order = &exam.Order{Product: "vaccine", Lot: drawText(t, "lot"), Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Against: []string{"tetanus"}}
			e.Injection.Checks = []exam.Checked{{Key: "horse", OK: true, Words: exam.CheckAnswer(drawText(t, "check"))}}
		}
	case exam.EntryDraw:
		e.Draw = &exam.DrawLine{
			Number: number, Phase: rapid.SampledFrom(exam.DrawPhases()).Draw(t, "phase"), Place: place, VolumeML: ml,
			Order: &exam.DrawOrder{For: drawText(t, "for"), Tubes: []exam.Tube{{Kind: "EDTA", ML: 3}}}, Tube: &exam.Tube{Kind: "EDTA", ML: 3, Label: drawText(t, "label")},
		}
	case exam.EntryWatch:
		e.Watch = &exam.WatchLine{Injection: number, Phase: rapid.SampledFrom(exam.WatchPhases()).Draw(t, "phase"), Minutes: 20, SignWords: drawText(t, "seen"), Why: exam.StopReason(drawText(t, "why"))}
	default:
	}
}

// A program that ends between "needle in" and "given" leaves an open attempt in
// the file: the next run finds it, and finds nothing that was not written.
func TestAnInjectionCutShortIsFoundOpen(t *testing.T) {
	r, dir := newRecord(t)
	v, err := r.Begin(opened(saveHorse(t, r, "Bracken").ID, day()))
	require.NoError(t, err)
	put := func(l exam.InjectionLine) {
		_, err := r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryInjection, By: "Ann", At: day(), Injection: &l})
		require.NoError(t, err)
	}
	_, err = r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryDecision, By: "Ann", At: day(), Decision: &exam.Decision{
		Words: "give it", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "vaccine", Dose: "1 dose"}},
	}})
	require.NoError(t, err)
	put(exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{Product: "Vaccine\x1b[2J", Lot: "A\u202e1", Dose: "1 dose", Route: exam.RouteIM}})
	put(exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck", Side: exam.Left}})
	require.NoError(t, r.Close())
	r = openRecord(t, dir)
	back, err := r.Visit(v.ID)
	require.NoError(t, err)
	open := back.OpenInjections()
	require.Len(t, open, 1)
	assert.Equal(t, "Vaccine", open[0].Order.Product)
	assert.Equal(t, "A1", open[0].Order.Lot)
	a, in := open[0].NeedleIn()
	assert.True(t, in)
	assert.Equal(t, "neck", a.Place.Site)
	assert.Zero(t, open[0].GivenML)
	assert.False(t, open[0].Counts(), "OPEN: the needle was inserted and is not")
}
