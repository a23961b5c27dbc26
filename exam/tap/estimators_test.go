package tap

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Estimators that the program does not use, to measure it against.

// lineFit is the slope of tap time on tap number.
func lineFit(taps []float64) float64 {
	n := float64(len(taps) - 1)
	sum := 0.0
	for k, t := range taps {
		sum += (float64(k) - n/2) * t
	}
	return sum / (n * (n + 1) * (n + 2) / 12)
}

// steadyHalf is the 95 % half-width per minute of the underlying rate if it is steady: t·s/√n. Not shown anywhere,
// because it fails when the rate drifts (Acceptance line 9).
func steadyHalf(gaps []float64) float64 {
	n := float64(len(gaps))
	m := mean(gaps)
	return quantileT975(len(gaps)-1) * stat.StdDev(gaps, nil) / math.Sqrt(n) * 60 / (m * m)
}

type glsFit struct{ period, a, rss, logDet float64 }

// gls is generalised least squares of the gaps with variance shape V: 1 on the diagonal, −(1−rho)/2 beside it.
func gls(gaps []float64, rho float64) glsFit {
	c := -(1 - rho) / 2
	var a, b, q, logDet float64
	d, u, x := 1.0, 0.0, 0.0 // LDLᵀ pivots and forward-solved 1 and gaps
	for j, g := range gaps {
		if j == 0 {
			u, x = 1, g
		} else {
			l := c / d
			d = 1 - l*c
			u, x = 1-l*u, g-l*x
		}
		a += u * u / d
		b += u * x / d
		q += x * x / d
		logDet += math.Log(d)
	}
	return glsFit{b / a, a, q - b*b/a, logDet}
}

// crb is the Cramér–Rao bound of the variance of the period from n gaps of white rhythm (SD w) and tap scatter s.
func crb(n int, w, s float64) float64 {
	nf := float64(n)
	if w == 0 {
		return 12 * s * s / (nf * (nf + 1) * (nf + 2))
	}
	th := math.Acosh(1 + w*w/(s*s)/2)
	r := math.Exp(-th/2) * -math.Expm1(-nf*th) / (math.Sinh(th/2) * (1 + math.Exp(-(nf+1)*th)))
	return w * w / (nf - r)
}
