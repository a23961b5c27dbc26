package exam

import (
	"math"
	"time"

	"loosebox/exam/notation"
)

// maxInjectedML is above anything that is given through a needle at one time, in mL; more is a slip of the decimal point.
const maxInjectedML = 1000.0

// Check says what is missing of an order, or wrong with it, on the day it is
// given. The error is a *notation.Refusal.
func (o Order) Check(at time.Time) error {
	needs := []struct{ have, name string }{
		{o.Product, "the product"}, {o.Lot, "the lot number, as on the label"}, {o.Dose, "the dose as it was ordered, with its unit"},
	}
	for _, n := range needs {
		if notation.CleanLine(n.have, 0) == "" {
			return &notation.Refusal{Why: "the order lacks " + n.name}
		}
	}
	switch {
	case o.Expiry.Last == "":
		return &notation.Refusal{Why: "the order lacks the expiry, as on the label"}
	case o.Expiry.Passed(at):
		return &notation.Refusal{Typed: o.Expiry.Typed, Why: "the product expired on " + notation.Shown(o.Expiry.Last) + ": it is not given; take another pack"}
	case !oneOf(o.Route, Routes()):
		return &notation.Refusal{Typed: string(o.Route), Why: "the route is one of: IM, IV, SC, by mouth, in the nose"}
	case !IsVolume(o.VolumeML, maxInjectedML):
		return &notation.Refusal{Why: "the volume is a number of mL above 0, and at most 1000 mL at one time"}
	}
	return nil
}

// IsVolume says that a number of mL is above 0 and at most most.
func IsVolume(ml, most float64) bool { return ml > 0 && ml <= most && !math.IsNaN(ml) }
