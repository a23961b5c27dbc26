package needle_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/volume"
	"loosebox/internal/examtest"
	"loosebox/internal/screentest"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

func bracken(t *testing.T, covers ...exam.Cover) (*nav.Deps, *examtest.Store, needle.Stand) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	if len(covers) > 0 {
		screentest.Decide(t, store, id, covers...)
	}
	return deps, store, look(t, deps, id)
}

func look(t *testing.T, deps *nav.Deps, id exam.VisitID) needle.Stand {
	t.Helper()
	s, err := needle.Look(deps, id)
	require.NoError(t, err)
	return s
}

func TestOpenListsWhatADecisionCoversNow(t *testing.T) {
	deps, store, s := bracken(t)
	_, err := s.Open(deps.Now())
	require.ErrorIs(t, err, exam.ErrRefused)

	screentest.Decide(t, store, s.Visit.ID, screentest.Tetanus(), screentest.Calming(), exam.Cover{Kind: exam.Drawing})
	s = look(t, deps, s.Visit.ID)
	open, err := s.Open(deps.Now())
	require.NoError(t, err)
	assert.Equal(t, []exam.Cover{screentest.Tetanus(), screentest.Calming()}, open)

	screentest.Write(t, store, s.Visit.ID, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
		Words: "Not the medicine to calm.", Vet: "Dr. R. Sommer", How: exam.Here, Ruling: exam.Wait, Covers: []exam.Cover{{Kind: exam.Injecting, Product: "product c"}},
	}})
	open, err = look(t, deps, s.Visit.ID).Open(deps.Now())
	require.NoError(t, err)
	assert.Equal(t, []exam.Cover{screentest.Tetanus()}, open, "a later word of the veterinarian counts")

	_, err = look(t, deps, s.Visit.ID).Open(deps.Now().Add(25 * time.Hour))
	require.ErrorIs(t, err, exam.ErrRefused)
}

func TestWriteAsksTheGateOnWhatTheStoreHolds(t *testing.T) {
	deps, store, s := bracken(t, screentest.Tetanus())
	ready := exam.Entry{Visit: s.Visit.ID, Kind: exam.EntryInjection, At: deps.Now(), By: "Ann", Injection: &exam.InjectionLine{
		Number: 1, Phase: exam.InjectionReady, Order: screentest.Ordered(),
	}}
	after, err := needle.Write(deps, ready)
	require.NoError(t, err)
	require.Len(t, after.Visit.Injections, 1)

	screentest.Fever(t, store, s.Visit.ID) // what s and after do not know
	in := ready
	in.Injection = &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.Place{Site: "neck triangle", Side: exam.Left}}
	after, err = needle.Write(deps, in)
	require.ErrorIs(t, err, exam.ErrRefused)
	assert.Empty(t, after.Visit.Injections[0].Attempts)

	// Of several lines those before the refused one stay.
	stop := ready
	stop.Injection = &exam.InjectionLine{Number: 1, Phase: exam.InjectionStopped, Why: "fever"}
	after, err = needle.Write(deps, stop, in)
	require.Error(t, err)
	assert.Equal(t, exam.InjectionStopped, after.Visit.Injections[0].State)
}

func TestGivenBeginsTheWatchOfThePractice(t *testing.T) {
	deps, _, _ := bracken(t)
	line := exam.InjectionLine{Number: 2, Phase: exam.InjectionGiven, VolumeML: 1}
	require.Len(t, needle.Given(deps, exam.Entry{}, line), 1, "no minutes are set")
	deps.Settings.WatchMinutes = 30
	lines := needle.Given(deps, exam.Entry{}, line)
	require.Len(t, lines, 2)
	assert.Equal(t, &exam.WatchLine{Injection: 2, Phase: exam.WatchBegun, Minutes: 30}, lines[1].Watch)
}

// filled is an order with its label.
func filled(deps *nav.Deps, s needle.Stand, c exam.Cover) *needle.Sheet {
	o := needle.NewSheet(deps, s, c)
	o.Put(needle.Lot, "L1")
	o.Put(needle.Expiry, "02/27")
	return o
}

func TestAVolumeIsWorkedOutOrTyped(t *testing.T) {
	for _, c := range []struct {
		name, dose, strength, weight, syringe, typed string
		ml                                           float64
		from                                         string
		refused                                      string
	}{
		// 2.2 mg/kg x 500 kg / 50 mg/mL = 22 mL: calculations and procedures, section 5.1
		{"by weight", "2.2 mg/kg", "50 mg/mL", "500kg", "35 mL", "", 22, "worked out, syringe of 35 mL", ""},
		{"in percent", "1100 mg", "5%", "", "35 mL", "", 22, "worked out, syringe of 35 mL", ""},
		{"ordered in mL", "2 mL", "", "", "", "", 2, "as ordered", ""},
		{"a vaccine, from its label", "1 dose", "", "", "", "1 mL", 1, "as typed", ""},
		{"typed otherwise", "1100 mg", "50 mg/mL", "", "35 mL", "20", 0, "", "(1100 mg / 50 mg/mL = 22 mL), not 20 mL"},
		{"typed within half a mark", "1100 mg", "50 mg/mL", "", "35 mL", "22.5", 22.5, "as typed; worked out 22 mL", ""},
		{"no strength", "1100 mg", "", "", "35 mL", "", 0, "", "no volume comes out: a dose in mg needs the strength of the label"},
		{"no weight", "2.2 mg/kg", "50 mg/mL", "", "35 mL", "", 0, "", "needs the body weight"},
		{"a vaccine without its volume", "1 dose", "", "", "", "", 0, "", "type the volume in mL"},
		{"a syringe too coarse", "15 mg", "50 mg/mL", "", "20 mL", "", 0, "", "cannot be drawn in this syringe"},
		{"a volume of 0", "2 mL", "", "", "", "0", 0, "", "above 0 mL"},
		{"a weight without unit", "2.2 mg/kg", "50 mg/mL", "500", "35 mL", "", 0, "", "has no unit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			by := exam.Cover{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIM, Dose: c.dose}
			deps, _, s := bracken(t, by)
			o := filled(deps, s, by)
			o.Put(needle.Dose, c.dose)
			o.Put(needle.Strength, c.strength)
			o.Put(needle.Weight, c.weight)
			o.Put(needle.Volume, c.typed)
			if c.syringe != "" {
				o.Put(needle.Syringe, c.syringe)
			}
			order, err := o.Order()
			if c.refused != "" {
				require.ErrorContains(t, err, c.refused)
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, c.ml, order.VolumeML, 1e-9)
			assert.Equal(t, c.from, order.VolumeFrom)
		})
	}
}

// Nobody gives a product twice by pressing enter.
func TestAProductThatWentInAlreadyIsAskedAbout(t *testing.T) {
	deps, store, s := bracken(t, screentest.Tetanus())
	decided, err := s.Covering(*screentest.Ordered(), 0, deps.Now())
	require.NoError(t, err)
	at := func(s needle.Stand, now time.Time) needle.Point {
		for _, p := range needle.Points(s, *screentest.Ordered(), decided, "Ann Bell", now) {
			if p.Key == "time" {
				return p
			}
		}
		return needle.Point{}
	}
	assert.Equal(t, "t", at(s, deps.Now()).Answers[0].Press, "nothing went in before")
	screentest.Given(t, store, s.Visit.ID)
	s = look(t, deps, s.Visit.ID)
	p := at(s, deps.Now())
	assert.Equal(t, "g", p.Answers[0].Press, "another letter than always")
	assert.Equal(t, "once more, on the veterinarian's word", p.Answers[0].Stored)
	assert.Contains(t, p.Shown, "! 1 mL went in already at 2026-03-02")
	p = at(s, deps.Now().AddDate(0, 1, 0))
	assert.Equal(t, "t", p.Answers[0].Press)
	assert.Contains(t, p.Shown, "; last given 2026-03-02")
}

func TestTheSmallestSyringeThatWillDoIsProposed(t *testing.T) {
	by := exam.Cover{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIM, Dose: "1100 mg"}
	deps, _, s := bracken(t, by)
	o := filled(deps, s, by)
	assert.Equal(t, "1 mL", o.Get(needle.Syringe), "nothing can be worked out yet")
	var syringe needle.Field
	for _, f := range o.Fields() {
		if f.Key == needle.Syringe {
			syringe = f
		}
	}
	for strength, want := range map[string]string{"50 mg/mL": "35 mL", "100 mg/mL": "12 mL", "1000 mg/mL": "3 mL"} {
		o.Put(needle.Strength, strength)
		assert.Equal(t, want, syringe.Proposed(), strength)
	}
}

// The fields that a rabies certificate asks of an injection (NASPHV Form 51, rev.
// 2007, and the person who gave it, CDC): calculations and procedures, section 4.1.
func TestARabiesOrderHoldsTheFieldsOfItsCertificate(t *testing.T) {
	c := exam.Cover{Kind: exam.Injecting, Product: "Vaccine R", Route: exam.RouteIM, Dose: "1 dose"}
	deps, _, s := bracken(t, c)
	o := filled(deps, s, c)
	off := func(key string) bool {
		for _, f := range o.Fields() {
			if f.Key == key {
				return f.Off()
			}
		}
		require.Fail(t, "no field "+key)
		return true
	}
	assert.True(t, off(needle.Tag))
	assert.True(t, off(needle.NextDue))
	o.Put(needle.Against, "tetanus")
	assert.True(t, off(needle.Tag))
	o.Put(needle.Against, "rabies")
	assert.False(t, off(needle.Tag))
	for key, text := range map[string]string{
		needle.Volume: "1 mL", needle.Maker: "Maker H", needle.Tag: "T-88", needle.Cert: "C-12", needle.NextDue: "2027-03-02", needle.GivenBy: "Ann Bell", needle.Supervised: "Dr. R. Sommer",
	} {
		o.Put(key, text)
	}
	order, err := o.Order()
	require.NoError(t, err)
	assert.Equal(t, exam.Order{
		Product: "Vaccine R", Maker: "Maker H", Lot: "L1", Expiry: exam.Expiry{Typed: "02/27", Last: "2027-02-28"}, Dose: "1 dose", VolumeML: 1, VolumeFrom: "as typed",
		Route: exam.RouteIM, Against: []string{"rabies"}, Decision: order.Decision, SupervisedBy: "Dr. R. Sommer", NextDue: "2027-03-02", TagNumber: "T-88", Certificate: "C-12",
	}, order)
	assert.Positive(t, order.Decision)
	o.Put(needle.NextDue, "02/03/2027")
	_, err = o.Order()
	require.Error(t, err)
}

func TestALastPackLendsWhatDoesNotChange(t *testing.T) {
	deps, store, s := bracken(t, screentest.Tetanus())
	order := screentest.Ordered()
	order.Maker, order.Active, order.Against = "Maker H", "invented toxoid", []string{"tetanus"}
	screentest.Lines(t, store, s.Visit.ID, exam.InjectionLine{Phase: exam.InjectionReady, Order: order})
	o := needle.NewSheet(deps, look(t, deps, s.Visit.ID), screentest.Tetanus())
	assert.Equal(t, "Maker H", o.Get(needle.Maker))
	assert.Equal(t, "tetanus", o.Get(needle.Against))
	assert.Empty(t, o.Get(needle.Lot), "lot and expiry are read from the label each time")
	assert.Empty(t, o.Get(needle.Expiry))
}

func TestTubesAsTheyAreTyped(t *testing.T) {
	for text, want := range map[string][]volume.TubeKind{
		"serum": {"serum"}, "citrate, 2 edta": {"citrate", "EDTA", "EDTA"}, " Serum ,, blood culture": {"serum", "blood culture"},
	} {
		got, err := needle.ReadTubes(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", ",", "teacup", "0 serum", "-1 serum", "99 EDTA", "\x1b[2J"} {
		_, err := needle.ReadTubes(text)
		var refusal *exam.Refusal
		require.ErrorAs(t, err, &refusal, text)
		assert.NotContains(t, err.Error(), "\x1b")
	}
}

func TestMillilitres(t *testing.T) {
	for text, want := range map[string]float64{"22": 22, "0": 0, "2.5 mL": 2.5, "2,5": 2.5, "1.5 L": 1500, "3 cc": 3} {
		got, err := needle.ML(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9)
	}
	for _, text := range []string{"", "mL", "-1", "1.000", "2 mg", "1 000", "NaN", "1e3"} {
		_, err := needle.ML(text)
		require.Error(t, err, text)
	}
	ml, known := needle.ReadAmount(needle.NotKnown)
	assert.Zero(t, ml)
	assert.False(t, known)
}

func TestTheLessRecentSideOfAVeinComesFirst(t *testing.T) {
	deps, store, s := bracken(t, exam.Cover{Kind: exam.Drawing})
	veins := needle.Veins(s, deps.Now())
	assert.Equal(t, "jugular, upper third, left", veins[0].Place().String())
	for _, l := range []exam.DrawLine{
		{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x"}},
		{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.Place{Site: "jugular, upper third", Side: exam.Left}},
		{Number: 1, Phase: exam.DrawStopped, Why: "swollen", Sign: "vein", SignWords: "A sick vein"},
	} {
		screentest.Write(t, store, s.Visit.ID, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	veins = needle.Veins(look(t, deps, s.Visit.ID), deps.Now())
	assert.Equal(t, "jugular, upper third, right", veins[0].Place().String())
	assert.Equal(t, "jugular, upper third, left", veins[1].Place().String())
	assert.Contains(t, veins[1].Warning, "A sick vein")
	assert.Equal(t, "2026-03-02", veins[1].Ago)
}

func TestWhatComesNext(t *testing.T) {
	im, oral := exam.Order{Route: exam.RouteIM}, exam.Order{Route: exam.RouteMouth}
	try := func(seen exam.InjectionPhase) []exam.Attempt { return []exam.Attempt{{Seen: seen}} }
	for _, c := range []struct {
		i    exam.Injection
		want needle.Stage
	}{
		{exam.Injection{}, needle.Ordering},
		{exam.Injection{Number: 1, Order: im, State: exam.InjectionReady}, needle.Placing},
		{exam.Injection{Number: 1, Order: oral, State: exam.InjectionReady}, needle.Giving},
		{exam.Injection{Number: 1, Order: im, State: exam.InjectionNeedleIn, Attempts: try("")}, needle.Seeing},
		{exam.Injection{Number: 1, Order: im, State: exam.InjectionClear, Attempts: try(exam.InjectionClear)}, needle.Giving},
		{exam.Injection{Number: 1, Order: im, State: exam.InjectionBlood, Attempts: try(exam.InjectionBlood)}, needle.Placing},
		{exam.Injection{Number: 1, Order: im, State: exam.InjectionGiven, Attempts: try(exam.InjectionClear)}, needle.Ended},
		{exam.Injection{Number: 1, Order: oral, State: exam.InjectionStopped}, needle.Ended},
	} {
		assert.Equal(t, c.want, needle.StageOf(c.i), "%+v", c.i)
	}
	stick := []exam.Stick{{}}
	assert.Equal(t, needle.Ordering, needle.StageOfDraw(exam.Draw{}))
	assert.Equal(t, needle.Placing, needle.StageOfDraw(exam.Draw{Number: 1}))
	assert.Equal(t, needle.Giving, needle.StageOfDraw(exam.Draw{Number: 1, Sticks: stick}))
	assert.Equal(t, needle.Ended, needle.StageOfDraw(exam.Draw{Number: 1, Sticks: stick, State: exam.DrawDone}))
}

func TestTheLimitsOfASmallFoal(t *testing.T) {
	deps, _, s := bracken(t)
	lines, over := needle.Limits(s, 500, 15.7, deps.Now())
	assert.Empty(t, over)
	assert.Contains(t, lines[0], "15.7 mL is 0.04 %")
	// 7.5 % of the blood in a week (Montana State University): 15 kg at 75 mL/kg and
	// more hold 84 mL of it, so that 120 mL cross it.
	_, over = needle.Limits(s, 15, 120, deps.Now())
	require.NotEmpty(t, over)
	assert.Contains(t, over[0], "ask the veterinarian first")
	line, over := needle.LimitLine(s, 15, 120, deps.Now())
	assert.NotEmpty(t, over)
	assert.Contains(t, line, "120 mL")
	_, over = needle.Limits(s, 0, 10, deps.Now())
	assert.NotEmpty(t, over, "no weight, no limit")
}
