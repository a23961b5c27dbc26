package screentest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Open is the one unfinished visit of a yard: Bracken's.
func Open(t testing.TB, s exam.Store) exam.Visit {
	t.Helper()
	open, err := s.Unfinished()
	require.NoError(t, err)
	require.Len(t, open, 1)
	return open[0]
}

// Decide stores a decision of an invented veterinarian, five minutes before Now: go ahead with covers.
func Decide(t testing.TB, s exam.Store, id exam.VisitID, covers ...exam.CoveredProcedure) {
	t.Helper()
	Write(t, s, id, exam.Entry{Kind: exam.EntryDecision, At: Now().Add(-5 * time.Minute), Decision: &exam.Decision{
		Words: "Fine to go ahead.", Vet: "Dr. R. Sommer", How: exam.Here, Ruling: exam.GoAhead, Covers: covers,
	}})
}

// Write adds an entry to a visit, at Now where it has no time.
func Write(t testing.TB, s exam.Store, id exam.VisitID, e exam.Entry) {
	t.Helper()
	e.Visit, e.By = id, "Ann Bell"
	if e.At.IsZero() {
		e.At = Now()
	}
	_, err := s.Append(e)
	require.NoError(t, err)
}

// Tetanus is what an invented vaccine is decided as.
func Tetanus() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Vaccine T", Route: exam.RouteIM, Dose: "1 dose"}
}

// Calming is a decided product that goes into a vein, by weight.
func Calming() exam.CoveredProcedure {
	return exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIV, Dose: "0.02 mg/kg"}
}

// Given stores a whole injection of an invented vaccine, given at Now into the left of the neck. A decision must cover it.
func Given(t testing.TB, s exam.Store, id exam.VisitID) {
	t.Helper()
	Lines(t, s, id,
		exam.InjectionLine{Phase: exam.InjectionReady, Order: Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}},
		exam.InjectionLine{Phase: exam.InjectionClear},
		exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1})
}

// Ordered is the order of an invented vaccine.
func Ordered() *exam.Order {
	return &exam.Order{
		Product: "Vaccine T", Lot: "LT-4471", Expiry: notation.Expiry{Typed: "02/27", Last: "2027-02-28"}, Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM,
	}
}

// Lines writes lines of the first injection of a visit at Now.
func Lines(t testing.TB, s exam.Store, id exam.VisitID, lines ...exam.InjectionLine) {
	t.Helper()
	for _, l := range lines {
		l.Number = 1
		Write(t, s, id, exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	}
}
