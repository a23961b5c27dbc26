package authorization_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// decideDose decides one injection of Product X into the muscle.
func (v *visitLines) decideDose(c exam.CoveredProcedure) int {
	c.Kind, c.Product, c.Route = exam.Injecting, "Product X", exam.RouteIM
	return v.decide(exam.Decision{Words: "give it", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{c}})
}

func doseOrder(dose, strength string, kg, ml, mark float64) *exam.Order {
	return &exam.Order{
		Product: "Product X", Lot: "L1", Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Dose: dose, Strength: strength,
		WeightKg: kg, VolumeML: ml, MarkML: mark, Route: exam.RouteIM,
	}
}

func ready(number int, o *exam.Order) exam.Entry {
	return exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: number, Phase: exam.InjectionReady, Order: o}}
}

// TestAnOrderKeepsToTheDecidedDose: the sums are worked out by hand beside each
// line. Half a mark of a syringe of 20 mL with marks of 1 mL is 0.5 mL.
func TestAnOrderKeepsToTheDecidedDose(t *testing.T) {
	for _, c := range []struct {
		name  string
		cover exam.CoveredProcedure
		order *exam.Order
		why   string // "" is admitted
	}{
		{"the volume", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("10 mL", "", 0, 10, 0), ""},
		{"twice the volume", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("20 mL", "", 0, 20, 0), "Dr Vale decided 10 mL, not 20 mL"},
		{"the dose as decided, another volume", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("10 mL", "", 0, 20, 1), "not 20 mL"},
		{"half a mark", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("10 mL", "", 0, 10.5, 1), ""},
		{"more than half a mark", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("10 mL", "", 0, 10.6, 1), "not 10.6 mL"},
		{"a mark too coarse for the dose", exam.CoveredProcedure{Dose: "2 mL"}, doseOrder("2 mL", "", 0, 2.5, 1), "not 2.5 mL"},
		{"less is no order either", exam.CoveredProcedure{Dose: "10 mL"}, doseOrder("10 mL", "", 0, 5, 0), "not 5 mL"},
		{"mg", exam.CoveredProcedure{Dose: "1100 mg"}, doseOrder("1100 mg", "50 mg/mL", 0, 22, 1), ""},
		{"mg, tenfold", exam.CoveredProcedure{Dose: "1100 mg"}, doseOrder("1100 mg", "50 mg/mL", 0, 220, 1), "not 220 mL"},
		{"mg without a strength", exam.CoveredProcedure{Dose: "1100 mg"}, doseOrder("1100 mg", "", 0, 22, 1), "needs the strength"},
		{"mg/kg: 2.2 x 545 / 50 = 23.98", exam.CoveredProcedure{Dose: "2.2 mg/kg"}, doseOrder("2.2 mg/kg", "50 mg/mL", 545, 24, 1), ""},
		{"mg/kg without a weight", exam.CoveredProcedure{Dose: "2.2 mg/kg"}, doseOrder("2.2 mg/kg", "50 mg/mL", 0, 24, 1), "needs the body weight"},
		{"mg/kg, another volume", exam.CoveredProcedure{Dose: "2.2 mg/kg"}, doseOrder("2.2 mg/kg", "50 mg/mL", 545, 25, 1), "(2.2 mg/kg x 545 kg / 50 mg/mL = 23.98 mL), not 25 mL"},
		{"mg/kg decided, mg ordered: 2.2 x 500 = 1100", exam.CoveredProcedure{Dose: "2.2 mg/kg"}, doseOrder("1100 mg", "50 mg/mL", 500, 22, 1), ""},
		{"mg/kg decided, more mg ordered", exam.CoveredProcedure{Dose: "2.2 mg/kg"}, doseOrder("2200 mg", "50 mg/mL", 500, 44, 1), "not 2200 mg"},
		{"mg/lb: 1 x 1102.31 lb / 50 = 22.05", exam.CoveredProcedure{Dose: "1 mg/lb"}, doseOrder("1 mg/lb", "5 %", 500, 22, 1), ""},
		{"mL/kg: 0.05 x 400 = 20", exam.CoveredProcedure{Dose: "0.05 mL/kg"}, doseOrder("0.05 mL/kg", "", 400, 20, 0), ""},
		{"mL/kg, double", exam.CoveredProcedure{Dose: "0.05 mL/kg"}, doseOrder("0.05 mL/kg", "", 400, 40, 0), "not 40 mL"},
		{"IU: 5000 / 1000 = 5", exam.CoveredProcedure{Dose: "5000 units"}, doseOrder("5000 IU", "1000 IU/mL", 0, 5, 0.2), ""},
		{"IU, another volume", exam.CoveredProcedure{Dose: "5000 IU"}, doseOrder("5000 IU", "1000 IU/mL", 0, 6, 0.2), "not 6 mL"},
		{"IU with a strength in mg", exam.CoveredProcedure{Dose: "5000 IU"}, doseOrder("5000 IU", "50 mg/mL", 0, 5, 0.2), "needs a strength in IU/mL"},
		{"a whole dose: the label says the volume", exam.CoveredProcedure{Dose: "1 dose"}, doseOrder("1 dose", "", 0, 2, 0), ""},
		{"a whole dose and mL", exam.CoveredProcedure{Dose: "1 dose"}, doseOrder("20 mL", "", 0, 20, 0), "the two cannot be compared"},
		{"divided: 30 / 3 = 10 a site", exam.CoveredProcedure{Dose: "30 mL", Sites: 3}, doseOrder("30 mL", "", 0, 10, 0), ""},
		{"divided, the whole into one", exam.CoveredProcedure{Dose: "30 mL", Sites: 3}, doseOrder("30 mL", "", 0, 30, 0), "30 mL / 3 sites = 10 mL"},
	} {
		v := newVisit(t)
		v.decideDose(c.cover)
		e := ready(1, c.order)
		e.At = v.at
		err, stored := authorization.CheckEntry(v.fold(), nil, e), authorization.CheckDecided(v.fold(), e)
		if c.why == "" {
			require.NoError(t, err, c.name)
			require.NoError(t, stored, c.name)
			continue
		}
		require.ErrorContains(t, err, c.why, c.name)
		require.Error(t, stored, c.name, "the store keeps it too")
	}
}

// A decision of an older record may name no dose, or one that cannot be read: the
// order waits for the veterinarian's dose.
func TestADecisionWithoutADoseIsCompleted(t *testing.T) {
	d := goAhead("Product X")
	d.Covers[0].Dose = ""
	require.ErrorContains(t, d.Check(), "names its dose")
	for dose, why := range map[string]string{"": "Dr Vale named no dose of Product X", "half a tube": "cannot be compared"} {
		v := newVisit(t)
		d.Covers[0].Dose = dose
		v.add(exam.Entry{Kind: exam.EntryDecision, Decision: &d})
		e := ready(1, doseOrder("10 mL", "", 0, 10, 0))
		e.At = v.at
		err := authorization.CheckDecided(v.fold(), e)
		require.ErrorIs(t, err, exam.ErrDiffers)
		require.ErrorContains(t, err, why)
	}
}

// TestTheChangedOrderLiftsTheRefusal: a new decision, not a correction, and the
// needle of the older order stays out.
func TestTheChangedOrderLiftsTheRefusal(t *testing.T) {
	v := newVisit(t)
	v.decideDose(exam.CoveredProcedure{Dose: "10 mL"})
	v.add(ready(1, doseOrder("10 mL", "", 0, 10, 0)))
	v.decideDose(exam.CoveredProcedure{Dose: "20 mL"})
	needle := exam.Entry{Kind: exam.EntryInjection, At: v.at, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}}
	require.ErrorIs(t, authorization.CheckDecided(v.fold(), needle), exam.ErrDiffers)
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionStopped, Why: "changed"}})
	e := ready(2, doseOrder("20 mL", "", 0, 20, 0))
	e.At = v.at
	require.NoError(t, authorization.CheckEntry(v.fold(), nil, e))
}

// tenML writes an injection of 10 mL down, ended as the line says.
func (v *visitLines) tenML(number int, end exam.InjectionLine) {
	v.add(ready(number, doseOrder("10 mL", "", 0, 10, 0)))
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: number, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}})
	end.Number = number
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &end})
}

func TestOneOrderIsOneDose(t *testing.T) {
	given := exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 10}
	for _, c := range []struct {
		name  string
		cover exam.CoveredProcedure
		ends  []exam.InjectionLine
		after time.Duration // since the last of them
		why   string
	}{
		{"a second under one order", exam.CoveredProcedure{}, []exam.InjectionLine{given}, time.Minute, "Dr Vale ordered one dose of Product X. 10 mL was given at 09:05 on 2 Mar 2026."},
		{"stopped, nothing given", exam.CoveredProcedure{}, []exam.InjectionLine{{Phase: exam.InjectionStopped, Why: "moved"}}, time.Minute, ""},
		{"given in part", exam.CoveredProcedure{}, []exam.InjectionLine{{Phase: exam.InjectionStopped, Why: "moved", VolumeML: 4}}, time.Minute, "4 mL was given"},
		{"amount not known", exam.CoveredProcedure{}, []exam.InjectionLine{{Phase: exam.InjectionStopped, Why: "moved", NotKnown: true}}, time.Minute, "not known"},
		{"twice, too early", exam.CoveredProcedure{Times: 2, HoursApart: 12}, []exam.InjectionLine{given}, time.Hour, "The next may go in from 21:05."},
		{"twice, in time", exam.CoveredProcedure{Times: 2, HoursApart: 12}, []exam.InjectionLine{given}, 12 * time.Hour, ""},
		{"twice, given twice", exam.CoveredProcedure{Times: 2, HoursApart: 0.5}, []exam.InjectionLine{given, given}, time.Hour, "Dr Vale ordered 2 times, at least 30 min apart of Product X. All were given."},
	} {
		v := newVisit(t)
		c.cover.Dose = "10 mL"
		v.decideDose(c.cover)
		for n, end := range c.ends {
			v.tenML(n+1, end)
		}
		e := ready(len(c.ends)+1, doseOrder("10 mL", "", 0, 10, 0))
		e.At = v.at.Add(c.after)
		err := authorization.CheckDecided(v.fold(), e)
		if c.why == "" {
			require.NoError(t, err, c.name)
			continue
		}
		require.ErrorIs(t, err, exam.ErrRefused, c.name)
		require.ErrorContains(t, err, c.why, c.name)
	}
}

// Two sites of one dose do not wait for each other; the next dose does.
func TestADoseInTwoSites(t *testing.T) {
	v := newVisit(t)
	v.decideDose(exam.CoveredProcedure{Dose: "20 mL", Sites: 2, Times: 2, HoursApart: 12})
	part := func(number int) error {
		e := ready(number, doseOrder("20 mL", "", 0, 10, 0))
		e.At = v.at
		return authorization.CheckDecided(v.fold(), e)
	}
	for n := 1; n <= 2; n++ {
		require.NoError(t, part(n))
		v.tenML(n, exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 10})
	}
	require.ErrorContains(t, part(3), "The next may go in from")
	v.at = v.at.Add(13 * time.Hour)
	require.NoError(t, part(3))
}

// An order that is begun is finished or stopped before another of it begins.
func TestTwoOrdersOfOneDoseDoNotStandSideBySide(t *testing.T) {
	v := newVisit(t)
	v.decideDose(exam.CoveredProcedure{Dose: "10 mL"})
	v.add(ready(1, doseOrder("10 mL", "", 0, 10, 0)))
	e := ready(2, doseOrder("10 mL", "", 0, 10, 0))
	e.At = v.at
	require.ErrorContains(t, authorization.CheckDecided(v.fold(), e), "begun and not finished")
	needle := exam.Entry{Kind: exam.EntryInjection, At: v.at, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}}
	require.NoError(t, authorization.CheckDecided(v.fold(), needle), "the order does not lock itself")
}

// What was given is saved as it was, and a difference is for the veterinarian.
func TestWhatWasGivenIsSavedAndTheDifferenceTold(t *testing.T) {
	for _, c := range []struct {
		name string
		end  exam.InjectionLine
		want string
	}{
		{"as ordered", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 10}, ""},
		{"too much", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 20}, "20 mL was given, 10 mL was ordered: 10 mL too much."},
		{"part", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 4}, "4 mL was given, 10 mL was ordered: 6 mL less."},
		{"stopped in part", exam.InjectionLine{Phase: exam.InjectionStopped, Why: "moved", VolumeML: 4}, "6 mL less."},
		{"stopped, nothing given", exam.InjectionLine{Phase: exam.InjectionStopped, Why: "moved"}, ""},
		{"not known", exam.InjectionLine{Phase: exam.InjectionGiven, NotKnown: true}, "The given amount is not known. 10 mL was ordered."},
		{"another product", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 10, Product: "Product Y"}, "Product Y was given, not the ordered Product X."},
		{"another route", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 10, Route: exam.RouteIV}, "The route was IV, not IM as ordered."},
		{"1500 mL", exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1500}, "1490 mL too much."},
	} {
		v := newVisit(t)
		v.decideDose(exam.CoveredProcedure{Dose: "10 mL"})
		v.add(exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{Words: "and blood", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Drawing}}}})
		v.add(ready(1, doseOrder("10 mL", "", 0, 10, 0)))
		v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}})
		v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionClear}})
		c.end.Number = 1
		e := exam.Entry{Kind: exam.EntryInjection, At: v.at, Injection: &c.end}
		require.NoError(t, authorization.CheckEntry(v.fold(), telling(), e), c.name)
		v.add(e)
		folded := v.fold()
		said := authorization.Differences(folded)
		draw := authorization.CheckProcedure(folded, nil, exam.Procedure{Kind: exam.Drawing, At: v.at})
		if c.want == "" {
			assert.Empty(t, said, c.name)
			require.NoError(t, draw, c.name)
			continue
		}
		require.Len(t, said, 1, c.name)
		assert.Contains(t, said[0].Why, c.want, c.name)
		require.ErrorContains(t, draw, "something new for the veterinarian", c.name)
	}
}

// An older record let an order of 20 mL stand beside a decision of 10 mL.
func TestAnOlderRecordIsMarkedToo(t *testing.T) {
	v := newVisit(t)
	seq := v.decideDose(exam.CoveredProcedure{Dose: "10 mL"})
	o := doseOrder("20 mL", "", 0, 20, 0)
	o.Decision = seq
	v.add(ready(1, o))
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}})
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 20}})
	said := authorization.Differences(v.fold())
	require.Len(t, said, 1)
	assert.Equal(t, "20 mL was given, 10 mL was decided by Dr Vale: 10 mL too much.", said[0].Why)
}

func TestByTheVeterinariansHandOrWord(t *testing.T) {
	hand := exam.Order{Product: "Product X", Route: exam.RouteIV, Without: exam.OwnHands, Vet: "Dr Vale"}
	aloud := exam.Order{
		Product: "Product X", Route: exam.RouteIV, Without: exam.Emergency, Vet: "Dr Vale", How: exam.ByTelephone, Dose: "5 mL", VolumeML: 5, Emergency: "down, seizure",
	}
	change := func(o exam.Order, by func(*exam.Order)) exam.Order { by(&o); return o }
	for _, c := range []struct {
		name  string
		order exam.Order
		why   string
	}{
		{"own hands, no label read", hand, ""},
		{"aloud", aloud, ""},
		{"no name", change(hand, func(o *exam.Order) { o.Vet = " " }), "by name"},
		{"no product", change(hand, func(o *exam.Order) { o.Product = "" }), "which product"},
		{"aloud, by oneself", change(aloud, func(o *exam.Order) { o.Vet = "ann" }), "the person who gives it cannot be the one"},
		{"aloud, not how", change(aloud, func(o *exam.Order) { o.How = exam.StandingOrder }), "here or by telephone"},
		{"aloud, no emergency", change(aloud, func(o *exam.Order) { o.Emergency = "x" }), "what the emergency was"},
		{"aloud, no dose", change(aloud, func(o *exam.Order) { o.Dose = "" }), "the dose that was ordered"},
	} {
		v := newVisit(t)
		e := exam.Entry{Kind: exam.EntryInjection, At: v.at, By: "Ann", Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, Order: &c.order, VolumeML: 5, Place: neck(exam.Left)}}
		err := authorization.CheckEntry(v.fold(), nil, e)
		if c.why != "" {
			require.ErrorContains(t, err, c.why, c.name)
			require.Error(t, authorization.CheckDecided(v.fold(), e), c.name)
			continue
		}
		require.NoError(t, err, c.name)
		require.NoError(t, authorization.CheckDecided(v.fold(), e), c.name)
		e.Injection.Phase = exam.InjectionReady
		require.Error(t, authorization.CheckEntry(v.fold(), nil, e), "no needle goes in by it")
		require.Error(t, authorization.CheckDecided(v.fold(), e))
		e.Injection.Phase = exam.InjectionGiven
		v.add(e)
		i, ok := v.fold().Injection(1)
		require.True(t, ok)
		assert.Equal(t, exam.InjectionGiven, i.State)
		assert.Len(t, i.Attempts, 1, "the site counts as used")
		assert.Contains(t, i.Whose(), "Dr Vale")
	}
	v := newVisit(t)
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, Order: &aloud, VolumeML: 5}})
	require.Len(t, authorization.Differences(v.fold()), 1, "nobody confirmed it yet")
	v.decideDose(exam.CoveredProcedure{Dose: "5 mL"})
	assert.Empty(t, authorization.Differences(v.fold()))
}

func TestReadOften(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "once": "", "1x": "", "3 times, 12 h apart": "3 times, at least 12 h apart", "3x 12h": "3 times, at least 12 h apart",
		"twice, at least 30 min apart": "2 times, at least 30 min apart", "2 times every 1.5 hours": "2 times, at least 1.5 h apart",
		"in 2 sites": "in 2 sites", "3x, 1 day, 2 sites": "3 times, at least 24 h apart, in 2 sites",
	} {
		c, err := exam.CoveredProcedure{}.ReadOften(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, c.Often(), text)
		back, err := exam.CoveredProcedure{}.ReadOften(want)
		require.NoError(t, err, want)
		assert.Equal(t, c, back, "what is shown can be typed")
	}
	for text, why := range map[string]string{
		"3 times": "how far apart", "12 h": "how often", "often": "how often is written", "0x 1h": "1 to 20", "30x 1h": "1 to 20", "2x 0h": "above 0", "2x 400 h": "14 days", "11 sites": "1 to 10",
	} {
		_, err := exam.CoveredProcedure{}.ReadOften(text)
		require.ErrorContains(t, err, why, text)
	}
}
