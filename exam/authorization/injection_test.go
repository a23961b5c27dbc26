package authorization_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

func order() *exam.Order {
	return &exam.Order{
		Product: "Vaccine A", Active: "invented toxoid", Strength: "1 dose/mL", Maker: "Maker", Lot: "L1", Dose: "1 dose", VolumeML: 1,
		Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Route: exam.RouteIM, Against: []string{"tetanus"},
	}
}

func (v *visitLines) inject(l exam.InjectionLine) error {
	l.Number = max(l.Number, 1)
	if err := authorization.CheckInjection(v.fold(), l, v.at); err != nil {
		return err
	}
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	return nil
}

func neck(side exam.Site) exam.NeedlePlace { return exam.NeedlePlace{Site: "neck", Side: side} }

func TestBloodOnAspirationBeginsAgainElsewhere(t *testing.T) {
	v := newVisit(t)
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: order()}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}), "no needle is in")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left), Needle: "20 G 1.5 in"}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}), "first aspirate")
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionInVein}), "no answer for a needle that goes IM")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionBlood}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}), "no needle is in")
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}), "another site")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Right)}))
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionClear}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven}), "how much")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1, Disposal: "sharps box"}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionStopped, Why: "x"}), "another dose is another injection")

	i, ok := v.fold().Injection(1)
	require.True(t, ok)
	require.Len(t, i.Attempts, 2)
	assert.Equal(t, exam.InjectionBlood, i.Attempts[0].Seen)
	assert.Equal(t, exam.Right, i.Attempts[1].Place.Side)
	assert.True(t, i.Counts())
	assert.InDelta(t, 1, i.GivenML, 0)
	assert.Equal(t, "Ann", i.EndBy)
	assert.Empty(t, v.fold().OpenInjections())
}

func TestAVeinIsSeenBeforeItIsGivenInto(t *testing.T) {
	v := newVisit(t)
	o := order()
	o.Route = exam.RouteIV
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: o}))
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}), "drips and does not pulse")
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionClear}), "no answer")
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionPulsing}))
	require.ErrorContains(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}}), "tell the vet")
	i, _ := v.fold().Injection(1)
	assert.Equal(t, "artery", i.Sign)
}

// Killed at any point: what stands is the fold of what was written, an open needle
// is asked about, and nothing says "given" that no entry says.
func TestAnInjectionCutShortIsNeitherLostNorInvented(t *testing.T) {
	whole := []exam.InjectionLine{
		{Number: 1, Phase: exam.InjectionReady, Order: order()},
		{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)},
		{Number: 1, Phase: exam.InjectionBlood},
		{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Right)},
		{Number: 1, Phase: exam.InjectionClear},
		{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1},
	}
	needleIn := []bool{false, true, false, true, true, false}
	for n := range whole {
		v := newVisit(t)
		for _, l := range whole[:n+1] {
			require.NoError(t, v.inject(l))
		}
		folded := v.fold()
		assert.Equal(t, needleIn[n], len(folded.OpenInjections()) == 1, "after line %d", n+1)
		i, _ := folded.Injection(1)
		assert.Equal(t, n == 5, i.Counts())
		if !needleIn[n] {
			continue
		}
		// On resume the person answers; every answer can be written down.
		err := authorization.CheckInjection(folded, exam.InjectionLine{Number: 2, Phase: exam.InjectionReady, Order: order()}, v.at)
		require.ErrorContains(t, err, "first record what happened")
		for _, l := range []exam.InjectionLine{
			{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1, Afterwards: true},
			{Number: 1, Phase: exam.InjectionStopped, VolumeML: 0.4, Why: "it moved", Afterwards: true},
			{Number: 1, Phase: exam.InjectionStopped, NotKnown: true, Why: "not known", Afterwards: true},
			{Number: 1, Phase: exam.InjectionNotFound, Afterwards: true},
		} {
			require.NoError(t, authorization.CheckInjection(folded, l, v.at))
		}
	}
}

func TestACorrectionChangesWhatIsSaidNotHowFarItIs(t *testing.T) {
	v := newVisit(t)
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: order()}))
	first := len(v.list)
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}))
	needle := len(v.list)
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionClear}))
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}))
	v.add(exam.Entry{Kind: exam.EntryClosed})
	right := order()
	right.Lot = "L2"
	v.add(exam.Entry{Kind: exam.EntryInjection, Corrects: first, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: right}})
	v.add(exam.Entry{Kind: exam.EntryInjection, Corrects: needle, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Right)}})
	i, _ := v.fold().Injection(1)
	assert.Equal(t, "L2", i.Order.Lot)
	assert.Equal(t, exam.InjectionGiven, i.State)
	require.Len(t, i.Attempts, 1)
	assert.Equal(t, exam.Right, i.Attempts[0].Place.Side)
	assert.Equal(t, exam.InjectionClear, i.Attempts[0].Seen)
	assert.Equal(t, []int{first, needle}, i.Corrected)
}

func TestAnOrderLacksNothing(t *testing.T) {
	at := time.Date(2027, 2, 28, 12, 0, 0, 0, time.UTC)
	require.NoError(t, order().Check(at))
	require.ErrorContains(t, order().Check(at.AddDate(0, 0, 1)), "expired on 28 Feb 2027")
	for name, spoil := range map[string]func(*exam.Order){
		"product": func(o *exam.Order) { o.Product = "\u202e" }, "lot": func(o *exam.Order) { o.Lot = "" }, "expiry": func(o *exam.Order) { o.Expiry = notation.Expiry{} },
		"dose": func(o *exam.Order) { o.Dose = "" }, "route": func(o *exam.Order) { o.Route = "IA" }, "volume": func(o *exam.Order) { o.VolumeML = 0 },
		"slip": func(o *exam.Order) { o.VolumeML = 1e6 },
	} {
		o := order()
		spoil(o)
		require.Error(t, o.Check(at), name)
	}
}

func TestEarlierDosesAreNotedWithoutADecision(t *testing.T) {
	v := newVisit(t)
	noted := exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025-04", Basis: "passport", Order: &exam.Order{Product: "Vaccine A", Against: []string{"tetanus"}}}
	require.NoError(t, v.inject(noted))
	noted.On = "2027"
	noted.Number = 2
	require.Error(t, v.inject(noted))
	i, _ := v.fold().Injection(1)
	assert.True(t, i.Counts())
	assert.Equal(t, "2025-04", i.On)

	// A closed visit takes it as an entry added later.
	v.add(exam.Entry{Kind: exam.EntryClosed})
	noted.On = "2024"
	v.add(exam.Entry{Kind: exam.EntryAdded, Injection: &noted})
	assert.Len(t, v.fold().Injections, 2)
}

func TestWatch(t *testing.T) {
	v := newVisit(t)
	require.NoError(t, v.inject(exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025", Order: &exam.Order{Product: "A"}}))
	begin := exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}
	require.NoError(t, authorization.CheckWatch(v.fold(), begin))
	v.add(exam.Entry{Kind: exam.EntryWatch, Watch: &begin})
	folded := v.fold()
	require.Len(t, folded.Watching(), 1)
	w := folded.Watches[0]
	require.Error(t, authorization.CheckWatch(folded, begin))
	require.ErrorContains(t, authorization.CheckWatch(folded, exam.WatchLine{Injection: 1, Phase: exam.WatchLeftEarly}), "why")
	end := exam.WatchLine{Injection: 1, Phase: exam.WatchQuiet}
	require.NoError(t, authorization.CheckWatch(folded, end))
	over := func(at time.Time) error {
		return authorization.CheckOver(folded, exam.Entry{Kind: exam.EntryWatch, At: at, Watch: &end}, nil)
	}
	require.ErrorContains(t, over(w.At.Add(19*time.Minute)), "not over")
	require.NoError(t, over(w.Ends()))
	require.NoError(t, over(w.At.Add(-time.Hour)), "a person looked at another clock")
	v.add(exam.Entry{Kind: exam.EntryWatch, Watch: &end})
	assert.Empty(t, v.fold().Watching())
}

func TestDrawOfThreeTubes(t *testing.T) {
	v := newVisit(t)
	put := func(l exam.DrawLine) error {
		l.Number = 1
		if err := authorization.CheckDraw(v.fold(), l); err != nil {
			return err
		}
		v.add(exam.Entry{Kind: exam.EntryDraw, Draw: &l})
		return nil
	}
	tubes := []exam.Tube{{Kind: "serum", ML: 10}, {Kind: "heparin", ML: 4}, {Kind: "EDTA", ML: 3}}
	require.Error(t, put(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{}}))
	require.ErrorContains(t, put(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "EIA", Official: true}}), "accredited veterinarian")
	require.NoError(t, put(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "blood count", Tubes: tubes}}))
	require.Error(t, put(exam.DrawLine{Phase: exam.DrawTube, Tube: &tubes[0]}))
	jugular := exam.NeedlePlace{Site: "jugular", Side: exam.Left}
	require.NoError(t, put(exam.DrawLine{Phase: exam.DrawNeedleIn, Place: jugular}))
	require.NoError(t, put(exam.DrawLine{Phase: exam.DrawMissed}))
	require.NoError(t, put(exam.DrawLine{Phase: exam.DrawNeedleIn, Place: jugular}))
	assert.Len(t, v.fold().OpenDraws(), 1)
	for i := range tubes {
		require.NoError(t, put(exam.DrawLine{Phase: exam.DrawTube, Tube: &tubes[i]}))
	}
	d, _ := v.fold().Draw(1)
	assert.InDelta(t, 17, d.DrawnML(), 1e-9)
	require.NoError(t, put(exam.DrawLine{Phase: exam.DrawDone, VolumeML: 17}))
	d, _ = v.fold().Draw(1)
	assert.True(t, d.Finished())
	assert.Len(t, d.Sticks, 2)
	assert.True(t, d.Sticks[0].Missed)
	assert.Empty(t, v.fold().OpenDraws())
}

// Every order of lines folds, and hostile texts come out harmless.
func TestAnyLinesFoldAndAreCleaned(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := newVisit(rt)
		for range rapid.IntRange(1, 10).Draw(rt, "lines") {
			text := rapid.String().Draw(rt, "text")
			e, err := exam.Clean(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
				Number: rapid.IntRange(-1, 2).Draw(rt, "n"), Phase: rapid.SampledFrom(exam.InjectionPhases()).Draw(rt, "phase"),
				Order: &exam.Order{Product: text, Lot: text, Against: []string{text}}, Why: exam.StopReason(text), Sign: text,
			}, Draw: &exam.DrawLine{Number: 1, Phase: rapid.SampledFrom(exam.DrawPhases()).Draw(rt, "draw"), Tube: &exam.Tube{Label: text}}})
			require.NoError(rt, err)
			require.Equal(rt, notation.CleanLine(text, 0), e.Injection.Order.Product)
			require.Equal(rt, notation.CleanLine(text, 0), e.Draw.Tube.Label)
			v.add(e)
		}
		given := 0
		for _, e := range v.list {
			if e.Injection != nil && (e.Injection.Phase == exam.InjectionGiven || e.Injection.Phase == exam.InjectionNoted) {
				given++
			}
		}
		counted := 0
		for _, i := range v.fold().Injections {
			if i.Counts() {
				counted++
			}
		}
		require.LessOrEqual(rt, counted, given, "nothing is invented")
	})
}

func TestOneNeedleAtATime(t *testing.T) {
	v := newVisit(t)
	require.NoError(t, v.inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: order()}))
	require.NoError(t, v.inject(exam.InjectionLine{Number: 2, Phase: exam.InjectionReady, Order: order()}))
	for n := 1; n <= 2; n++ {
		l := exam.DrawLine{Number: n, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count"}}
		require.NoError(t, authorization.CheckDraw(v.fold(), l))
		v.add(exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	second := exam.InjectionLine{Number: 2, Phase: exam.InjectionNeedleIn, Place: neck(exam.Right)}
	draw := exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular"}}
	require.NoError(t, authorization.CheckDraw(v.fold(), draw))
	require.NoError(t, v.inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: neck(exam.Left)}))
	require.ErrorContains(t, v.inject(second), "another needle")
	require.ErrorContains(t, authorization.CheckDraw(v.fold(), draw), "a needle is in already")
	require.NoError(t, v.inject(exam.InjectionLine{Number: 1, Phase: exam.InjectionStopped, Why: "it moved"}))
	v.add(exam.Entry{Kind: exam.EntryDraw, Draw: &draw})
	draw.Number = 2
	require.Error(t, authorization.CheckDraw(v.fold(), draw))
	require.ErrorContains(t, v.inject(second), "another needle")

	// Order fields on later lines are ignored.
	other := order()
	other.Product, other.Route = "Something else", exam.RouteIV
	v.add(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 2, Phase: exam.InjectionClear, Order: other}})
	i, _ := v.fold().Injection(2)
	require.Equal(t, "Vaccine A", i.Order.Product)
}

// A watch is declined once, with its reason, where one is to do.
func TestAWatchIsDeclinedOnceWithItsReason(t *testing.T) {
	given := exam.Visit{Injections: []exam.Injection{{Number: 1, State: exam.InjectionGiven, GivenML: 1}, {Number: 2, State: exam.InjectionStopped}}}
	with := func(phase exam.WatchPhase) exam.Visit {
		v := given
		v.Watches = []exam.Watch{{Injection: 1, State: phase, Minutes: 20}}
		return v
	}
	for name, c := range map[string]struct {
		v     exam.Visit
		n     int
		why   exam.StopReason
		taken bool
	}{
		"with a reason":            {given, 1, "the owner observes, and knows what to look for", true},
		"without one":              {given, 1, " ", false},
		"nothing went in":          {given, 2, "w", false},
		"no such injection":        {given, 7, "w", false},
		"it runs":                  {with(exam.WatchBegun), 1, "w", false},
		"it is over":               {with(exam.WatchQuiet), 1, "w", false},
		"it was declined":          {with(exam.WatchDeclined), 1, "w", false},
		"a visit without any dose": {exam.Visit{}, 1, "w", false},
	} {
		err := authorization.CheckWatch(c.v, exam.WatchLine{Injection: c.n, Phase: exam.WatchDeclined, Why: c.why})
		assert.Equal(t, c.taken, err == nil, "%s: %v", name, err)
	}
	require.NoError(t, authorization.CheckWatch(with(exam.WatchDeclined), exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 5}), "begun after all")
}
