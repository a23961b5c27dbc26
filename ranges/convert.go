package ranges

import "math"

// Fahrenheit and Celsius: F = 1.8 C + 32, exactly (NIST SP 811, appendix B.9). Results are rounded to a millionth of a
// degree, to remove float noise.

func toFahrenheit(c float64) float64 { return tidy(9*c/5 + 32) }

func toCelsius(f float64) float64 { return tidy((f - 32) * 5 / 9) }

func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// otherTemperature is the other of the two temperature units and the conversion from it to u; false if u is no temperature.
func otherTemperature(u Unit) (from Unit, convert func(float64) float64, ok bool) {
	switch u {
	case Celsius:
		return Fahrenheit, toCelsius, true
	case Fahrenheit:
		return Celsius, toFahrenheit, true
	case PerMinute, Seconds:
	}
	return "", nil, false
}

// in gives the row in unit u: itself, or converted between the temperature units; false for any other pair of units.
func (r Row) in(u Unit) (Row, bool) {
	if r.Unit == u {
		return r, true
	}
	from, convert, ok := otherTemperature(u)
	if !ok || from != r.Unit {
		return Row{}, false
	}
	r.Unit = u
	for _, l := range r.limits() {
		for _, edge := range []**float64{&l.Low, &l.High} {
			if *edge != nil {
				v := convert(**edge)
				*edge = &v
			}
		}
	}
	return r, true
}

// pairAgrees reports whether a limit in C and one in F are the same temperature at a step of 0.1: one is the other,
// converted and rounded. A limit "at or above" is also the same where the numbers one step below it are.
func pairAgrees(c, f float64, from bool) bool {
	return rounds(c, f) || from && rounds(c-step, f-step)
}

func rounds(c, f float64) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < step/2+slack }
	return near(toFahrenheit(c), f) || near(toCelsius(f), c)
}
