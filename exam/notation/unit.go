package notation

import (
	"math"
	"strconv"
	"strings"
)

// Unit is a unit of measure as it is written on screens and in the record.
type Unit string

// The units a finding can carry.
const (
	NoUnit     Unit = ""
	Celsius    Unit = "C"
	Fahrenheit Unit = "F"
	PerMinute  Unit = "/min"
	Seconds    Unit = "s"
	Kilograms  Unit = "kg"
	Pounds     Unit = "lb"
	Centimetre Unit = "cm"
	Inch       Unit = "in"
	Points     Unit = "points"
)

// Exact factors: NIST Special Publication 811 (2008), appendix B: 1 lb =
// 0.453 592 37 kg, 1 in = 2.54 cm, t/C = (t/F - 32)/1.8.
const (
	KgPerLb = 0.45359237
	cmPerIn = 2.54
)

// Quantity is a number of Unit, kept as it was typed.
type Quantity struct {
	Value float64 `json:"value"`
	Unit  Unit    `json:"unit" text:"name"`
}

// In returns the quantity in another unit of the same kind, by exact factors.
// The second result is false where the two units do not measure the same thing.
func (q Quantity) In(to Unit) (Quantity, bool) {
	if q.Unit == to {
		return q, true
	}
	convert, ok := converters(q.Unit, to)
	if !ok {
		return Quantity{}, false
	}
	return Quantity{Value: convert(q.Value), Unit: to}, true
}

func converters(from, to Unit) (func(float64) float64, bool) {
	switch [2]Unit{from, to} {
	case [2]Unit{Celsius, Fahrenheit}:
		return func(v float64) float64 { return v*1.8 + 32 }, true
	case [2]Unit{Fahrenheit, Celsius}:
		return func(v float64) float64 { return (v - 32) / 1.8 }, true
	case [2]Unit{Kilograms, Pounds}:
		return func(v float64) float64 { return v / KgPerLb }, true
	case [2]Unit{Pounds, Kilograms}:
		return func(v float64) float64 { return v * KgPerLb }, true
	case [2]Unit{Centimetre, Inch}:
		return func(v float64) float64 { return v / cmPerIn }, true
	case [2]Unit{Inch, Centimetre}:
		return func(v float64) float64 { return v * cmPerIn }, true
	default:
		return nil, false
	}
}

// String writes the quantity with at most two decimals and its unit, "38.4 C".
func (q Quantity) String() string { return q.Text(2) }

// Text writes the quantity with at most the given number of decimals; trailing
// zeros after the first decimal are left out.
func (q Quantity) Text(decimals int) string {
	number := FormatNumber(q.Value, decimals)
	switch q.Unit {
	case Hands:
		return inHands(q.Value)
	case NoUnit, Points:
		return number
	case PerMinute:
		return number + " /min"
	default:
		return number + " " + string(q.Unit)
	}
}

// FormatNumber writes a number with at most the given decimals and no trailing
// zeros, so that 38.0 typed as 38 stays 38.
func FormatNumber(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no number"
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}
