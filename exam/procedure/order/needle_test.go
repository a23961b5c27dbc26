package order_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/tui/screentest"
)

// bracken is the open visit of a horse, and the store that it is read from.
func bracken(t *testing.T, covers ...exam.CoveredProcedure) (*order.Job, *examtest.Store, func()) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	if len(covers) > 0 {
		screentest.Decide(t, store, id, covers...)
	}
	at := &order.Job{Person: "Ann Bell", Now: deps.Now}
	look := func() {
		var err error
		at.Stand, err = order.Look(deps.Desk, id)
		require.NoError(t, err)
	}
	look()
	return at, store, look
}

func TestOpenListsWhatADecisionCoversNow(t *testing.T) {
	s, store, look := bracken(t)
	_, err := s.Open(s.Now())
	require.ErrorIs(t, err, exam.ErrRefused)

	screentest.Decide(t, store, s.Visit.ID, screentest.Tetanus(), screentest.Calming(), exam.CoveredProcedure{Kind: exam.Drawing})
	look()
	open, err := s.Open(s.Now())
	require.NoError(t, err)
	assert.Equal(t, []exam.CoveredProcedure{screentest.Tetanus(), screentest.Calming()}, open)

	screentest.Write(t, store, s.Visit.ID, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
		Words: "Not the medicine to calm.", Vet: "Dr. R. Sommer", How: exam.Here, Ruling: exam.Wait, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "product c"}},
	}})
	look()
	open, err = s.Open(s.Now())
	require.NoError(t, err)
	assert.Equal(t, []exam.CoveredProcedure{screentest.Tetanus()}, open, "a later word of the veterinarian counts")

	_, err = s.Open(s.Now().Add(25 * time.Hour))
	require.ErrorIs(t, err, exam.ErrRefused)
}

// filled is an order with its label.
func filled(s *order.Job, c exam.CoveredProcedure) *order.Draft {
	o := order.NewDraft(s, c)
	o.Put(order.Lot, "L1")
	o.Put(order.Expiry, "02/27")
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
			by := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIM, Dose: c.dose}
			s, _, _ := bracken(t, by)
			o := filled(s, by)
			o.Put(order.Dose, c.dose)
			o.Put(order.Strength, c.strength)
			o.Put(order.Weight, c.weight)
			o.Put(order.Volume, c.typed)
			if c.syringe != "" {
				o.Put(order.Syringe, c.syringe)
			}
			got, err := o.Order()
			if c.refused != "" {
				require.ErrorContains(t, err, c.refused)
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, c.ml, got.VolumeML, 1e-9)
			assert.Equal(t, c.from, got.VolumeFrom)
		})
	}
}

// Nobody gives a product twice by pressing enter.
func TestAProductThatWentInAlreadyIsAskedAbout(t *testing.T) {
	s, store, look := bracken(t, screentest.Tetanus())
	decided, err := s.Covering(*screentest.Ordered(), 0, s.Now())
	require.NoError(t, err)
	at := func(s order.Stand, now time.Time) order.AnsweredPoint {
		for _, p := range order.Points(s, *screentest.Ordered(), decided, "Ann Bell", now) {
			if p.Key == "time" {
				return p
			}
		}
		return order.AnsweredPoint{}
	}
	assert.Equal(t, "t", at(s.Stand, s.Now()).Answers[0].Press, "nothing went in before")
	screentest.Given(t, store, s.Visit.ID)
	look()
	p := at(s.Stand, s.Now())
	assert.Equal(t, "g", p.Answers[0].Press, "another letter than always")
	assert.Equal(t, exam.AgainOrdered, p.Answers[0].Stored)
	assert.Contains(t, p.Shown, "Check: 1 mL was given already at 2 Mar 2026")
	p = at(s.Stand, s.Now().AddDate(0, 1, 0))
	assert.Equal(t, "t", p.Answers[0].Press)
	assert.Contains(t, p.Shown, "; last given 2 Mar 2026")
}

// Nor is blood drawn twice under one decision by the keys that always go through the list.
func TestBloodThatWasDrawnAlreadyIsAskedAbout(t *testing.T) {
	s, store, look := bracken(t, screentest.Blood())
	decided, err := s.Drawing(s.Now())
	require.NoError(t, err)
	at := func(now time.Time) order.AnsweredPoint {
		list := order.DrawPoints(s.Stand, exam.DrawOrder{For: "x"}, nil, decided, now)
		return list[slices.IndexFunc(list, func(p order.AnsweredPoint) bool { return p.Key == "time" })]
	}
	assert.Equal(t, "t", at(s.Now()).Answers[0].Press, "nothing was drawn before")
	for _, l := range []exam.DrawLine{
		{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x"}},
		{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: procedure.Jugular, Side: exam.Left}},
		{Number: 1, Phase: exam.DrawDone, VolumeML: 18},
	} {
		screentest.Write(t, store, s.Visit.ID, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	look()
	p := at(s.Now())
	assert.Equal(t, "g", p.Answers[0].Press)
	assert.Equal(t, exam.AgainOrdered, p.Answers[0].Stored)
	assert.Contains(t, p.Shown, "Check: 18 mL of blood was drawn already at 2 Mar 2026")
	p = at(s.Now().AddDate(0, 0, 2))
	assert.Equal(t, "t", p.Answers[0].Press)
	assert.Contains(t, p.Shown, "; last drawn 2 Mar 2026")
}

func TestTheSmallestSyringeThatWillDoIsProposed(t *testing.T) {
	by := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIM, Dose: "1100 mg"}
	s, _, _ := bracken(t, by)
	o := filled(s, by)
	assert.Equal(t, "1 mL", o.Get(order.Syringe), "nothing can be worked out yet")
	var syringe order.Field
	for _, f := range o.Fields() {
		if f.Key == order.Syringe {
			syringe = f
		}
	}
	for strength, want := range map[string]string{"50 mg/mL": "35 mL", "100 mg/mL": "12 mL", "1000 mg/mL": "3 mL"} {
		o.Put(order.Strength, strength)
		assert.Equal(t, want, syringe.Proposed(), strength)
	}
}

// The fields that a rabies certificate asks of an injection (NASPHV Form 51, rev.
// 2007, and the person who gave it, CDC): calculations and procedures, section 4.1.
func TestARabiesOrderHoldsTheFieldsOfItsCertificate(t *testing.T) {
	c := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine R", Route: exam.RouteIM, Dose: "1 dose"}
	s, _, _ := bracken(t, c)
	o := filled(s, c)
	off := func(key string) bool {
		for _, f := range o.Fields() {
			if f.Key == key {
				return f.Off()
			}
		}
		require.Fail(t, "no field "+key)
		return true
	}
	assert.True(t, off(order.Tag))
	assert.True(t, off(order.NextDue))
	o.Put(order.Against, "tetanus")
	assert.True(t, off(order.Tag))
	o.Put(order.Against, "rabies")
	assert.False(t, off(order.Tag))
	for key, text := range map[string]string{
		order.Volume: "1 mL", order.Maker: "Maker H", order.Tag: "T-88", order.Cert: "C-12", order.NextDue: "2027-03-02", order.GivenBy: "Ann Bell", order.Supervised: "Dr. R. Sommer",
	} {
		o.Put(key, text)
	}
	got, err := o.Order()
	require.NoError(t, err)
	assert.Equal(t, exam.Order{
		Product: "Vaccine R", Maker: "Maker H", Lot: "L1", Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Dose: "1 dose", VolumeML: 1, VolumeFrom: "as typed",
		Route: exam.RouteIM, Against: []string{"rabies"}, Decision: got.Decision, SupervisedBy: "Dr. R. Sommer", NextDue: "2027-03-02", TagNumber: "T-88", Certificate: "C-12",
	}, got)
	assert.Positive(t, got.Decision)
	o.Put(order.NextDue, "02/03/2027")
	_, err = o.Order()
	require.Error(t, err)
}

// The witness is somebody else than who gives it, whichever of the two is typed first; nobody is asked for.
func TestTheWitnessIsSomebodyElse(t *testing.T) {
	s, _, _ := bracken(t, screentest.Tetanus())
	o := filled(s, screentest.Tetanus())
	for witness, why := range map[string]string{
		"": "", "Eva Lind": "", "N Harrow, groom": "", "Nora Harrow": "",
		"nell harrow": "the witness must not be nell harrow, who gives it",
		"N Harrow":    "N Harrow may be Nell Harrow, who gives it; if it is somebody else, add who: N Harrow, groom",
		"Nell Harow":  "Nell Harow may be Nell Harrow, who gives it; if it is somebody else, add who: Nell Harow, groom",
		"NH":          "NH may be Nell Harrow, who gives it; if it is somebody else, add who: NH, groom",
		"?":           "write the name of the witness",
	} {
		o.Put(order.Witness, witness)
		o.Put(order.GivenBy, "Nell Harrow")
		o.Put(order.Volume, "1 mL")
		got, err := o.Order()
		if why != "" {
			require.EqualError(t, err, why)
			continue
		}
		require.NoError(t, err)
		assert.Equal(t, witness, got.Witness)
	}
}

func TestALastPackLendsWhatDoesNotChange(t *testing.T) {
	s, store, look := bracken(t, screentest.Tetanus())
	before := screentest.Ordered()
	before.Maker, before.Active, before.Against = "Maker H", "invented toxoid", []string{"tetanus"}
	screentest.Lines(t, store, s.Visit.ID, exam.InjectionLine{Phase: exam.InjectionReady, Order: before})
	look()
	o := order.NewDraft(s, screentest.Tetanus())
	assert.Equal(t, "Maker H", o.Get(order.Maker))
	assert.Equal(t, "tetanus", o.Get(order.Against))
	assert.Empty(t, o.Get(order.Lot), "lot and expiry are read from the label each time")
	assert.Empty(t, o.Get(order.Expiry))
}

func TestTubesAsTheyAreTyped(t *testing.T) {
	for text, want := range map[string][]exam.TubeKind{
		"serum": {"serum"}, "citrate, 2 edta": {"citrate", "EDTA", "EDTA"}, " Serum ,, blood culture": {"serum", "blood culture"},
	} {
		got, err := order.ReadTubes(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", ",", "teacup", "0 serum", "-1 serum", "99 EDTA", "\x1b[2J"} {
		_, err := order.ReadTubes(text)
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, text)
		assert.NotContains(t, err.Error(), "\x1b")
	}
}

func TestMillilitres(t *testing.T) {
	for text, want := range map[string]float64{"22": 22, "0": 0, "2.5 mL": 2.5, "2,5": 2.5, "1.5 L": 1500, "3 cc": 3} {
		got, err := order.ML(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9)
	}
	for _, text := range []string{"", "mL", "-1", "1.000", "2 mg", "1 000", "NaN", "1e3"} {
		_, err := order.ML(text)
		require.Error(t, err, text)
	}
	ml, known := order.ReadAmount(order.NotKnown)
	assert.Zero(t, ml)
	assert.False(t, known)
}

func TestTheLessRecentSideOfAVeinComesFirst(t *testing.T) {
	s, store, look := bracken(t, exam.CoveredProcedure{Kind: exam.Drawing})
	veins := procedure.Veins(s.All, s.Now())
	assert.Equal(t, "jugular, upper third, left", veins[0].Place().String())
	for _, l := range []exam.DrawLine{
		{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x"}},
		{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular, upper third", Side: exam.Left}},
		{Number: 1, Phase: exam.DrawStopped, Why: "swollen", Sign: "vein", SignWords: "Hot, hard or swollen vein"},
	} {
		screentest.Write(t, store, s.Visit.ID, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	look()
	veins = procedure.Veins(s.All, s.Now())
	assert.Equal(t, "jugular, upper third, right", veins[0].Place().String())
	assert.Equal(t, "jugular, upper third, left", veins[1].Place().String())
	assert.Contains(t, veins[1].Warning, "Hot, hard or swollen vein")
	assert.Equal(t, "2 Mar 2026", veins[1].Ago)
	far := s.Now().In(time.FixedZone("", 14*60*60))
	assert.Equal(t, "3 Mar 2026", procedure.Veins(s.All, far)[1].Ago, "by the clock of now")
}

func TestTheLimitsOfASmallFoal(t *testing.T) {
	s, _, _ := bracken(t)
	lines, over := order.Limits(s.Stand, 500, 15.7, s.Now())
	assert.Empty(t, over)
	assert.Contains(t, lines[0], "15.7 mL is 0.04 %")
	// 7.5 % of the blood in a week (Montana State University): 15 kg at 75 mL/kg and
	// more hold 84 mL of it, so that 120 mL cross it.
	_, over = order.Limits(s.Stand, 15, 120, s.Now())
	require.NotEmpty(t, over)
	assert.Contains(t, over[0], "ask the veterinarian first")
	line, over := order.LimitLine(s.Stand, 15, 120, s.Now())
	assert.NotEmpty(t, over)
	assert.Contains(t, line, "120 mL")
	_, over = order.Limits(s.Stand, 0, 10, s.Now())
	assert.NotEmpty(t, over, "no weight, no limit")
}

// A withdrawal said in days is kept as days, with its end; a date is a date.
func TestAWithdrawalInDaysHasItsEnd(t *testing.T) {
	for typed, want := range map[string]struct {
		to   string
		days int
	}{"28d": {"2026-03-30", 28}, "4 w": {"2026-03-30", 28}, "2026-03-30": {"2026-03-30", 0}, "": {"", 0}} {
		s, _, _ := bracken(t, screentest.Tetanus())
		o := filled(s, screentest.Tetanus())
		o.Put(order.Volume, "1 mL")
		o.Put(order.Food, typed)
		got, err := o.Order()
		require.NoError(t, err, typed)
		assert.Equal(t, want.to, got.NotForFoodTo, typed)
		assert.Equal(t, want.days, got.NotForFoodDays, typed)
	}
}
