package authorization_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/authorization"
)

// machine tries any line in any order against CheckEntry, writes what is admitted, and
// sometimes reads the whole visit again, as after a kill.
type machine struct {
	*visitLines
	rt *rapid.T
}

func (m *machine) try(e exam.Entry) {
	e.At = m.at
	if authorization.CheckEntry(m.fold(), telling(), e) == nil {
		m.add(e)
	}
}

func (m *machine) injection() {
	route := rapid.SampledFrom(exam.Routes()).Draw(m.rt, "route")
	o := order()
	o.Route = route
	m.try(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
		Number: rapid.IntRange(1, 3).Draw(m.rt, "number"), Phase: rapid.SampledFrom(exam.InjectionPhases()).Draw(m.rt, "phase"), Order: o,
		Place: neck(rapid.SampledFrom([]exam.Site{exam.Left, exam.Right}).Draw(m.rt, "side")), VolumeML: 1, Why: "why", On: "2025",
		Afterwards: rapid.IntRange(0, 5).Draw(m.rt, "afterwards") == 0,
	}})
}

func (m *machine) blood() {
	m.try(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{
		Number: rapid.IntRange(1, 2).Draw(m.rt, "number"), Phase: rapid.SampledFrom(exam.DrawPhases()).Draw(m.rt, "draw"),
		Order: &exam.DrawOrder{For: "count"}, Place: neck(exam.Left), Tube: &exam.Tube{Kind: "EDTA", ML: 3}, VolumeML: 3, Why: "why",
	}})
}

func TestWhateverIsTriedTheRecordStaysTrue(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := &machine{newVisit(rt), rt}
		for range rapid.IntRange(5, 60).Draw(rt, "lines") {
			switch rapid.IntRange(0, 9).Draw(rt, "what") {
			case 0:
				d := goAhead("Vaccine A")
				d.Covers[0].Route = ""
				m.decide(d)
			case 1:
				m.temperature(39.6)
			case 2, 3:
				m.blood()
			default:
				m.injection()
			}
			m.holds()
		}
	})
}

// holds checks the visit after every line, read from its entries.
func (m *machine) holds() {
	v := m.fold()
	require.LessOrEqual(m.rt, len(v.OpenInjections())+len(v.OpenDraws()), 1, "one needle at a time")
	decided := 0
	for _, d := range v.Decisions {
		decided = max(decided, d.Seq)
	}
	for _, i := range v.Injections {
		if i.State != exam.InjectionNoted {
			require.Positive(m.rt, decided, "nothing without a decision")
			require.NotEmpty(m.rt, i.Order.Lot)
		}
		blood := map[exam.NeedlePlace]bool{}
		for _, a := range i.Attempts {
			require.False(m.rt, blood[a.Place], "never again where blood came")
			blood[a.Place] = a.Seen == exam.InjectionBlood || a.Seen == exam.InjectionPulsing
		}
		if i.State != exam.InjectionGiven || !i.Order.Route.Needled() {
			continue
		}
		require.NotEmpty(m.rt, i.Attempts)
		last := i.Attempts[len(i.Attempts)-1]
		if i.Afterwards || i.Order.Route == exam.RouteSC {
			continue
		}
		want := exam.InjectionClear
		if i.Order.Route == exam.RouteIV {
			want = exam.InjectionInVein
		}
		require.Equal(m.rt, want, last.Seen, "given only after it was seen")
	}
	for _, d := range v.Draws {
		require.Positive(m.rt, decided)
		if d.State == exam.DrawDone {
			require.NotEmpty(m.rt, d.Sticks)
		}
	}
}
