package volume

import (
	"fmt"

	"loosebox/exam/notation"
)

// worstPercent is more than an exam ever meets: the worst fluid losses rarely
// exceed 15 % of body weight (SAEVA Proceedings 2015).
const worstPercent = 15

// DeficitL is the fluid that a horse of this weight has lost, in litres, if it
// has lost the given percentage of its body weight: percent times kg over 100.
// Source: MSD Veterinary Manual, fluid needs in dehydrated horses (4 to 10 % of
// 500 kg are 20 to 50 L). What is given, and how fast, is the veterinarian's.
// The error is a *notation.Refusal.
func DeficitL(percent, kg float64) (float64, error) {
	if err := possibleKg(kg); err != nil {
		return 0, err
	}
	if !(percent >= 0 && percent <= worstPercent) {
		return 0, &notation.Refusal{Why: fmt.Sprintf("a loss of %s %% of body weight is not possible (0 to %d %%)", Plain(percent), worstPercent)}
	}
	return tidy(percent * kg / 100), nil
}

// Deficit is a fluid loss worked out for a weight.
type Deficit struct {
	Percent, Litres float64
	// LowL and HighL are what it would be if the horse weighed as little, or as
	// much, as the published error of the weight allows; both 0 where none is known.
	LowL, HighL float64
	Warnings    []Warning // about the weight
	Working     []string
}

// DeficitOf is DeficitL with its working and what is to be known of the weight.
// The error is a *notation.Refusal.
func DeficitOf(percent float64, w Weight) (Deficit, error) {
	litres, err := DeficitL(percent, w.Kg)
	if err != nil {
		return Deficit{}, err
	}
	d := Deficit{Percent: percent, Litres: litres, Warnings: w.Warnings()}
	d.Working = []string{w.Line(), fmt.Sprintf("%s %% x %s kg / 100 = %s L", Plain(percent), Plain(w.Kg), Plain(litres))}
	if usable(w.LowKg) && usable(w.HighKg) {
		d.LowL, d.HighL = tidy(percent*w.LowKg/100), tidy(percent*w.HighKg/100)
		d.Working = append(d.Working, fmt.Sprintf("by the published error of the weight %s to %s L", Plain(d.LowL), Plain(d.HighL)))
	}
	return d, nil
}

// Drip is a rate of flow in the ways in which it is set and checked.
type Drip struct {
	MLPerHour, DropsPerMin, DropsPerSecond, SecondsPerDrop float64
}

// Flow is the drip at which a volume runs in a time: drops a minute are mL times
// drops a mL over minutes. The error is a *notation.Refusal.
func Flow(ml, dropsPerML, minutes float64) (Drip, error) {
	if !usable(ml) || !usable(minutes) || !usable(dropsPerML) || dropsPerML > 100 {
		return Drip{}, &notation.Refusal{Why: "a drip needs a volume, a time and the drops a mL from the packet, all above zero"}
	}
	perMin := ml * dropsPerML / minutes
	if !usable(perMin) {
		return Drip{}, &notation.Refusal{Why: "no rate comes out of these figures"}
	}
	return Drip{
		MLPerHour: tidy(ml / minutes * 60), DropsPerMin: tidy(perMin),
		DropsPerSecond: tidy(perMin / 60), SecondsPerDrop: tidy(60 / perMin),
	}, nil
}

// FlowByWeight is the drip for a rate in mL per kg and day, as the veterinarian
// ordered it. The error is a *notation.Refusal.
func FlowByWeight(mlPerKgPerDay, kg, dropsPerML float64) (Drip, error) {
	if err := possibleKg(kg); err != nil {
		return Drip{}, err
	}
	return Flow(mlPerKgPerDay*kg, dropsPerML, 24*60)
}

// LeftMinutes is how long what is left in the bag runs at a counted drip. The
// error is a *notation.Refusal.
func LeftMinutes(ml, dropsPerML, dropsPerMin float64) (float64, error) {
	if !usable(ml) || !usable(dropsPerML) || !usable(dropsPerMin) {
		return 0, &notation.Refusal{Why: "the time left needs what is left, the drops a mL and the drops a minute, all above zero"}
	}
	left := ml * dropsPerML / dropsPerMin
	if !usable(left) {
		return 0, &notation.Refusal{Why: "no time comes out of these figures"}
	}
	return tidy(left), nil
}
