package tap

import "math"

// z975 is the 0.975 quantile of the normal distribution.
const z975 = 1.959963984540054

// quantileT975 is the 0.975 quantile of Student's t with df ≥ 1 degrees of freedom, within 1e-9.
// Both forms are textbook ones (Abramowitz & Stegun, section 26.7, from memory) and are checked against gonum: a series
// in 1/df, and below 200 degrees of freedom Newton steps on the finite sum that the distribution has for whole df.
func quantileT975(df int) float64 {
	const z = z975
	v, z2 := float64(df), z*z
	t := z * (1 + (z2+1)/(4*v) +
		((5*z2+16)*z2+3)/(96*v*v) +
		(((3*z2+19)*z2+17)*z2-15)/(384*v*v*v) +
		((((79*z2+776)*z2+1482)*z2-1920)*z2-945)/(92160*v*v*v*v))
	if df >= 200 {
		return t
	}
	lg1, _ := math.Lgamma((v + 1) / 2)
	lg2, _ := math.Lgamma(v / 2)
	c := math.Exp(lg1-lg2) / math.Sqrt(v*math.Pi)
	for range 20 {
		step := (0.95 - centralT(t, df)) / (2 * c * math.Pow(1+t*t/v, -(v+1)/2))
		t += step
		if math.Abs(step) < 1e-13*t {
			break
		}
	}
	return t
}

// centralT is P(|T| ≤ t) for df degrees of freedom.
func centralT(t float64, df int) float64 {
	theta := math.Atan(t / math.Sqrt(float64(df)))
	sin, cos := math.Sincos(theta)
	if df%2 == 1 {
		term, sum := cos, 0.0
		for k := 1; k < df; k += 2 {
			sum += term
			term *= cos * cos * float64(k+1) / float64(k+2)
		}
		return 2 / math.Pi * (theta + sin*sum)
	}
	term, sum := 1.0, 0.0
	for k := 0; k < df; k += 2 {
		sum += term
		term *= cos * cos * float64(k+1) / float64(k+2)
	}
	return sin * sum
}
