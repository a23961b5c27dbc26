package needle

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Working is the volume of an order with how it was found.
type Working struct {
	ML       float64 // 0 where nothing can be worked out
	From     string
	Lines    []string // the working, for a person
	Warnings []string
	Err      error // why an order with a dose by weight or mass has no volume
}

// workOut finds the volume of an ordered dose, where one can be found: a dose in
// mL is its own volume, a dose in mg or mg/kg needs the strength, and a whole dose
// of a vaccine has the volume of its label.
func workOut(dose, strength string, w volume.Weight, s volume.Syringe, table []volume.Syringe) Working {
	text, err := procedure.ReadDose(dose)
	if err != nil {
		return Working{}
	}
	if ml, err := volume.ParseML(text); err == nil {
		return Working{ML: ml, From: "as ordered"}
	}
	d, err := volume.ParseDose(text)
	if err != nil {
		return Working{} // a whole dose of a vaccine: the volume is on the label
	}
	if exam.CleanLine(strength, 0) == "" {
		return Working{Err: &exam.Refusal{Why: "the strength is not filled in yet: it stands on the label"}}
	}
	o := volume.Order{Dose: d, Weight: w, Syringe: s, Table: table}
	if o.Strength, err = volume.ParseStrength(strength); err != nil {
		return Working{Err: err}
	}
	drawn, err := volume.WorkOut(o)
	if err != nil {
		return Working{Err: err}
	}
	out := Working{ML: drawn.DrawnML, From: fmt.Sprintf("worked out, syringe of %s mL", volume.Plain(s.ML)), Lines: drawn.Working}
	for _, warning := range drawn.Warnings {
		out.Warnings = append(out.Warnings, warning.Text)
	}
	return out
}

// proposedSyringe is the first of the table, which goes by size, that gives the
// dose at once; where none does, what is chosen.
func (o *Sheet) proposedSyringe() string {
	for _, s := range o.table {
		if w := workOut(o.Get(Dose), o.Get(Strength), o.bodyWeight(), s, o.table); w.ML > 0 && w.ML <= s.ML {
			return s.Name
		}
	}
	return o.Get(Syringe)
}

// ByMass says that a dose is worked out by way of a strength.
func ByMass(dose string) bool {
	text, err := procedure.ReadDose(dose)
	if err != nil {
		return false
	}
	_, err = volume.ParseDose(text)
	return err == nil
}

// ML reads millilitres where nothing else can be meant: "22", "22 mL", "0".
func ML(text string) (float64, error) {
	clean := strings.TrimSpace(exam.CleanLine(text, 40))
	if clean != "" && strings.Trim(clean, "0123456789.,") == "" {
		clean += " mL"
	}
	return volume.ParseML(clean)
}

// apart says that two volumes differ by more than a person would call the same.
func apart(a, b float64) bool { return math.Abs(a-b) > 0.05*math.Max(a, b) }
