package volume

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// WarningKind says what a warning is about; a screen decides on it.
type WarningKind string

// The kinds of warning.
const (
	VerySmall    WarningKind = "very small"
	VeryLarge    WarningKind = "very large"
	RoundedUp    WarningKind = "rounded up"
	SeveralFills WarningKind = "several fills"
	ByEye        WarningKind = "weight by eye"
	OldWeight    WarningKind = "old weight"
	MovedWeight  WarningKind = "weight moved"
)

// Warning is what a person should look at before the volume is used.
type Warning struct {
	Kind WarningKind
	Text string
}

// Suspects of a tenfold slip, in mL, and the change by rounding beyond which no
// volume is given: our own, a practice may set the last.
const (
	SmallML            = 0.1
	LargeML            = 60
	DefaultMaxPercent  = exam.MostRounding
	highestMaxPercent  = 20.0
	mostFillsOfSyringe = 10
)

// Order is what is to be worked out: what the veterinarian ordered, what the
// label says, what the horse weighs, which syringe is in the hand.
type Order struct {
	Dose     Dose
	Strength Strength
	Weight   Weight // Kg 0: not known; a dose by weight then has no volume
	Syringe  Syringe
	// MaxPercent is the change by rounding that is still taken; 0: DefaultMaxPercent.
	MaxPercent float64
	// Table holds the syringes to name where the chosen one is too coarse; nil: Syringes.
	Table []Syringe
}

// Drawn is the volume worked out for an order.
type Drawn struct {
	OrderedMg     float64
	ExactML       float64
	DrawnML       float64 // at a mark of the syringe
	ChangePercent float64 // by rounding: delivered against ordered
	Fills         int     // of the syringe, 1 where it holds the whole
	DeliveredMg   float64
	// HasWeight says that the next four, in mg/kg, are known. Low and High are
	// what it would be if the horse weighed as much, or as little, as the
	// published error of the weight allows; both 0 where no error is known.
	HasWeight           bool
	DeliveredMgPerKg    float64
	LowPerKg, HighPerKg float64
	Warnings            []Warning
	Working             []string // lines for a person, from the order to the mark
}

// WorkOut computes the volume of an order. The error is a *notation.Refusal: a part
// is missing or impossible, or the marks of the syringe would change the dose by
// too much.
func WorkOut(o Order) (Drawn, error) {
	if err := o.check(); err != nil {
		return Drawn{}, err
	}
	d := Drawn{OrderedMg: tidy(o.Dose.Mg(o.Weight.Kg))}
	d.ExactML = tidy(d.OrderedMg / o.Strength.MgPerML())
	if !usable(d.OrderedMg) || !usable(d.ExactML) {
		return Drawn{}, &notation.Refusal{Why: "no volume comes out of these figures; look at dose, weight and strength again"}
	}
	d.DrawnML = o.Syringe.nearest(d.ExactML)
	d.ChangePercent = tidy((d.DrawnML - d.ExactML) / d.ExactML * 100)
	d.Fills = max(1, int(math.Ceil(d.DrawnML/o.Syringe.ML-1e-9)))
	if err := o.tooCoarse(d); err != nil {
		return Drawn{}, err
	}
	d.DeliveredMg = tidy(d.DrawnML * o.Strength.MgPerML())
	if o.Weight.Kg > 0 {
		d.HasWeight, d.DeliveredMgPerKg = true, tidy(d.DeliveredMg/o.Weight.Kg)
		if usable(o.Weight.LowKg) && usable(o.Weight.HighKg) {
			d.LowPerKg, d.HighPerKg = tidy(d.DeliveredMg/o.Weight.HighKg), tidy(d.DeliveredMg/o.Weight.LowKg)
		}
	}
	d.Warnings = append(d.warnings(o), o.Weight.Warnings()...)
	d.Working = d.working(o)
	return d, nil
}

func (o Order) check() error {
	switch {
	case !known(o.Dose.Unit) || !usable(o.Dose.Value):
		return &notation.Refusal{Why: "a dose above zero, in mg/kg or mg, as the veterinarian said it, is needed"}
	case !usable(o.Strength.MgPerML()) || o.Strength.MgPerML() > strongest:
		return &notation.Refusal{Why: "the strength from the label, in mg/mL or %, is needed"}
	case !usable(o.Syringe.ML) || !usable(o.Syringe.MarkML) || o.Syringe.MarkML > o.Syringe.ML:
		return &notation.Refusal{Why: "a syringe with its smallest mark is needed"}
	case o.Weight.Kg == 0 && o.Dose.ByWeight():
		return &notation.Refusal{Why: fmt.Sprintf("a dose in %s needs the body weight", o.Dose.Unit)}
	case math.IsNaN(o.MaxPercent) || o.MaxPercent < 0 || o.MaxPercent > highestMaxPercent:
		return &notation.Refusal{Why: fmt.Sprintf("the change by rounding that is taken lies between 0 and %s %%", Plain(highestMaxPercent))}
	case o.Weight.Kg != 0:
		return possibleKg(o.Weight.Kg)
	}
	return nil
}

func (o Order) maxPercent() float64 {
	if o.MaxPercent > 0 {
		return o.MaxPercent
	}
	return DefaultMaxPercent
}

// tooCoarse refuses a syringe whose marks change the dose by more than is taken,
// and names those of the table that do not.
func (o Order) tooCoarse(d Drawn) error {
	if d.Fills > mostFillsOfSyringe {
		return &notation.Refusal{
			Why:   fmt.Sprintf("%s mL would fill a syringe of %s mL %d times. Look for a tenfold error in dose, weight and strength", Plain(d.ExactML), Plain(o.Syringe.ML), d.Fills),
			Meant: o.betterSyringes(d.ExactML),
		}
	}
	if math.Abs(d.ChangePercent) <= o.maxPercent()*(1+1e-9) {
		return nil
	}
	what := fmt.Sprintf("%s mL, which is %s %% of what was ordered", Plain(d.DrawnML), signed(d.ChangePercent))
	if d.DrawnML == 0 {
		what = "nothing at all"
	}
	return &notation.Refusal{
		Why: fmt.Sprintf("%s mL cannot be drawn in this syringe (%s mL, marks of %s mL). Its nearest mark gives %s; the limit is %s %%",
			Plain(d.ExactML), Plain(o.Syringe.ML), Plain(o.Syringe.MarkML), what, Plain(o.maxPercent())),
		Meant: o.betterSyringes(d.ExactML),
	}
}

func (o Order) betterSyringes(exactML float64) string {
	table := o.Table
	if table == nil {
		table = Syringes()
	}
	var names []string
	for _, s := range table {
		if len(names) < 3 && s.fine(exactML, o.maxPercent()) {
			names = append(names, fmt.Sprintf("%s (marks of %s)", s.Name, Plain(s.MarkML)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "a syringe of " + strings.Join(names, " or ")
}
