package volume

import (
	"fmt"
	"math"

	"loosebox/exam/notation"
)

// warnings says what a person should look at twice before the volume is drawn.
func (d Drawn) warnings(o Order) []Warning {
	var out []Warning
	if d.ExactML < SmallML {
		out = append(out, Warning{VerySmall, fmt.Sprintf("%s mL is under %s mL: look for a tenfold slip in dose, weight and strength before it is drawn", Plain(d.ExactML), Plain(SmallML))})
	}
	if d.ExactML > LargeML {
		out = append(out, Warning{VeryLarge, fmt.Sprintf("%s mL is over %s mL: look for a tenfold slip in dose, weight and strength before it is drawn", Plain(d.ExactML), Plain(LargeML))})
	}
	if d.Fills > 1 {
		out = append(out, Warning{SeveralFills, fmt.Sprintf("%s mL fills a syringe of %s mL %d times; how it is divided is for the veterinarian", Plain(d.DrawnML), Plain(o.Syringe.ML), d.Fills)})
	}
	if d.DrawnML > d.ExactML*(1+1e-9) {
		out = append(out, Warning{RoundedUp, fmt.Sprintf("rounded up from %s to %s mL, %s %%", Plain(d.ExactML), Plain(d.DrawnML), Change(d.ChangePercent))})
	}
	return out
}

func (d Drawn) working(o Order) []string {
	var lines []string
	if o.Weight.Kg > 0 {
		lines = append(lines, o.Weight.Line())
	}
	if o.Dose.ByWeight() {
		lines = append(lines, fmt.Sprintf("ordered %s x %s = %s mg", o.Dose.Text(), weightIn(o), Plain(d.OrderedMg)))
	} else {
		lines = append(lines, fmt.Sprintf("ordered %s = %s mg", o.Dose.Text(), Plain(d.OrderedMg)))
	}
	if o.Strength.Unit == percent {
		lines = append(lines, fmt.Sprintf("%s = %s mg/mL", o.Strength.Text(), Plain(o.Strength.MgPerML())))
	}
	return append(lines,
		fmt.Sprintf("%s mg / %s mg/mL = %s mL exactly", Plain(d.OrderedMg), Plain(o.Strength.MgPerML()), Plain(d.ExactML)),
		fmt.Sprintf("syringe of %s mL, marks of %s mL: draw %s mL", Plain(o.Syringe.ML), Plain(o.Syringe.MarkML), Plain(d.DrawnML)))
}

// weightIn is the weight in the unit that the dose asks for.
func weightIn(o Order) string {
	if lb, ok := (notation.Quantity{Value: o.Weight.Kg, Unit: notation.Kilograms}).In(notation.Pounds); ok && o.Dose.Unit == MgPerLb {
		return Plain(lb.Value) + " lb"
	}
	return Plain(o.Weight.Kg) + " kg"
}

// how says how a weight was found, and when where that is a day or more ago.
func (w Weight) how() string {
	how := "method not recorded"
	if w.Method != "" {
		how = w.Method.String()
	}
	if w.AgeDays >= 1 {
		days := " days old"
		if w.AgeDays < 2 {
			days = " day old"
		}
		how += ", " + Plain(math.Floor(w.AgeDays)) + days
	}
	return how
}

// Line is the weight with how it was found, for a working.
func (w Weight) Line() string {
	weight := fmt.Sprintf("%s kg", Plain(w.Kg))
	switch {
	case w.Reads.Unit != notation.NoUnit:
		weight = fmt.Sprintf("%s, weighed as %s", w.Text(), w.AsTyped.Text(1))
	case w.AsTyped.Unit == notation.Pounds:
		weight = fmt.Sprintf("%s lb x 0.45359237 = %s", Plain(w.AsTyped.Value), weight)
	}
	return fmt.Sprintf("weight %s, %s", weight, w.how())
}
