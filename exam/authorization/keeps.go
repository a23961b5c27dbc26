package authorization

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// keeps says whether an order keeps to what the veterinarian decided: the dose is
// the same, and the volume is what that dose comes to (WithinRounding). Of the
// whole dose of a label only the label says the volume, so that only the dose is
// compared. The error is a *notation.Refusal where a part is missing, or a *Locked that
// only the veterinarian's changed order lifts: errors.Is(err, ErrDiffers).
func keeps(c exam.CoveredProcedure, o exam.Order, vet string) error {
	if notation.CleanLine(c.Dose, 0) == "" {
		return exam.LockDiffers("%s named no dose of %s. Ask for it, and save it as the veterinarian's order.", vet, o.Product)
	}
	said, err := notation.ReadDose(c.Dose)
	if err != nil {
		return exam.LockDiffers("The decided dose %q cannot be compared. Ask %s for it in mL, mg, mg/kg, IU, or as 1 dose.", notation.CleanLine(c.Dose, 40), vet)
	}
	ordered, err := notation.ReadDose(o.Dose)
	switch {
	case err != nil:
		return err
	case said.Whole() && ordered.Whole():
		return nil
	case said.Whole() != ordered.Whole():
		return exam.LockDiffers("%s decided %s. The order says %s: the two cannot be compared.", vet, said.Text(), ordered.Text())
	}
	want, err := exam.SumOf(said, o.Strength, o.WeightKg, c.Sites)
	if err != nil {
		return err
	}
	own, err := exam.SumOf(ordered, o.Strength, o.WeightKg, c.Sites)
	switch {
	case err != nil:
		return err
	case !exam.WithinRounding(own.ML, want.ML, o.MarkML):
		return exam.LockDiffers("%s decided %s, not %s. %s", vet, amount(said, want), ordered.Text(), untilChanged)
	case !exam.WithinRounding(o.VolumeML, want.ML, o.MarkML):
		return exam.LockDiffers("%s decided %s, not %s mL. %s", vet, amount(said, want), notation.Plain(o.VolumeML), untilChanged)
	}
	return nil
}

const untilChanged = "The order is refused until the veterinarian's changed order is saved."

// amount is a dose with the volume that it comes to.
func amount(d notation.Dose, s exam.DoseVolume) string {
	if d.Unit == notation.DoseML && notation.Plain(d.Value) == notation.Plain(s.ML) {
		return d.Text()
	}
	return fmt.Sprintf("%s (%s)", d.Text(), s.How)
}
