package screentest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Add appends an entry to a visit, by Ann Bell, and returns it as stored. Its time is 15 minutes before Now if it has none.
func Add(t testing.TB, s exam.Store, id exam.VisitID, e exam.Entry) exam.Entry {
	t.Helper()
	if e.At.IsZero() {
		e.At = Now().Add(-15 * time.Minute)
	}
	e.Visit, e.By = id, "Ann Bell"
	stored, err := s.Append(e)
	require.NoError(t, err)
	return stored
}

// HandOff hands a visit off to Dr Vale, by telephone, read back.
func HandOff(t testing.TB, s exam.Store, id exam.VisitID) exam.Entry {
	t.Helper()
	return Add(t, s, id, exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{
		To: "Dr Vale", How: exam.ByTelephone, Asked: "Please say: go ahead, wait, or stop.", ReadBack: true,
	}})
}

// Rule stores a decision of Dr Vale: the ruling and what it covers.
func Rule(t testing.TB, s exam.Store, id exam.VisitID, ruling exam.Ruling, covers ...exam.CoveredProcedure) exam.Entry {
	t.Helper()
	return Add(t, s, id, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
		Words: "Give the tetanus vaccine, one dose, and draw blood for a count.", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: ruling, Covers: covers,
	}})
}

// Vaccine is a cover of an invented vaccine into the muscle.
func Vaccine() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine A", Route: exam.RouteIM, Dose: "1 dose"}
}

// Blood is a cover of a blood draw.
func Blood() exam.CoveredProcedure { return exam.CoveredProcedure{Kind: exam.Drawing} }

// NeedleIn stores an injection of Vaccine up to "needle in".
func NeedleIn(t testing.TB, s exam.Store, id exam.VisitID) {
	t.Helper()
	for _, l := range []exam.InjectionLine{
		{Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{
			Product: "Vaccine A", Lot: "A1", Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM, Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"},
		}},
		{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}, Needle: "20 G 1.5 in"},
	} {
		Add(t, s, id, exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	}
}

// Fever adds a finding that is for the veterinarian.
func Fever(t testing.TB, s exam.Store, id exam.VisitID) {
	t.Helper()
	Add(t, s, id, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{
		Kind: exam.KindNumber, Number: &notation.Quantity{Value: 40.2, Unit: notation.Celsius},
	}})
}
