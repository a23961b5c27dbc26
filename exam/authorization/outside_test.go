package authorization_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
)

// What a veterinarian gave under the name of who writes it down is told until a
// decision confirms it; under another name there is nothing to tell.
func TestOwnHandsUnderOnesOwnName(t *testing.T) {
	for name, told := range map[string]bool{"Dr Vale": false, "Ann": true, "  aNN ": true} {
		v := newVisit(t)
		o := &exam.Order{Product: "Product X", Route: exam.RouteIV, Without: exam.OwnHands, Vet: name}
		e := exam.Entry{Kind: exam.EntryInjection, At: v.at, By: "Ann", Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, Order: o, VolumeML: 5}}
		require.NoError(t, authorization.CheckEntry(v.fold(), nil, e), "the truth is always saved")
		v.add(e)
		if !told {
			assert.Empty(t, authorization.Differences(v.fold()), name)
			continue
		}
		said := authorization.Differences(v.fold())
		require.Len(t, said, 1, name)
		assert.Contains(t, said[0].Why, "recorded under the same name. No decision confirms it yet.")
		v.decideDose(exam.CoveredProcedure{Dose: "5 mL"})
		assert.Empty(t, authorization.Differences(v.fold()), name)
	}
}
