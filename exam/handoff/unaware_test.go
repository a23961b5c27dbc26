package handoff_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/handoff"
)

// Two laptops gave one dose each without knowing of each other, each as ordered: that is the reason of the call, said once.
func TestADoseOfTwoLaptopsIsTheReason(t *testing.T) {
	at, v := noon(), visit(noon())
	order := exam.Order{Product: "Product B", Lot: "L1", VolumeML: 1, Dose: "1 mL", Route: exam.RouteIM}
	for n := 1; n <= 2; n++ {
		v.Injections = append(v.Injections, exam.Injection{
			Number: n, Order: order, State: exam.InjectionGiven, GivenML: 1, EndAt: &at, Unaware: []int{3 - n}, Signed: exam.Signed{At: at, By: "Ann", Seq: n + 1},
		})
	}
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Why), "I am calling because of: injections on two laptops that did not know of each other.")
	v.Injections = v.Injections[:1]
	v.Injections[0].Unaware, v.Injections[0].GivenML = nil, 2
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Why), "I am calling because of: an injection that differs from the order.")
}
