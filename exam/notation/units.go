package notation

import "math"

// Units are the units in which a person reads and types, by the unit that each replaces: C -> F, kg -> lb, cm -> in, and
// in -> hh for heights. A measure that is not among them stays in the unit in which it was typed.
type Units map[Unit]Unit

// wholeFrom is the weight from which one that was converted is shown without decimals: they would be of the conversion.
const wholeFrom = 100

// Of is a quantity as the person reads it.
func (u Units) Of(q Quantity) Quantity {
	to, set := u[q.Unit]
	if !set || to == Hands {
		return q
	}
	read, ok := q.In(to)
	if !ok {
		return q
	}
	if (to == Pounds || to == Kilograms) && read.Value >= wholeFrom {
		read.Value = math.Round(read.Value)
	}
	return read
}

// Height is Of for a height at the withers, which some read in hands: its unit is then Hands and its value in inches.
func (u Units) Height(q Quantity) Quantity {
	if in, ok := q.In(Inch); ok && u[Inch] == Hands {
		return Quantity{Value: in.Value, Unit: Hands}
	}
	return u.Of(q)
}
