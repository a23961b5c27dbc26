package judge

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// feverAfterMedicine is where fever is told after a medicine for pain or fever in the last 24 hours: from 38.9 C, where
// 39.2 C is the limit otherwise (NC State veterinary hospital, isolation definitions). It is not lent to a class whose
// own limit is lower.
const (
	feverAfterMedicineC = 38.9
	feverAfterMedicineF = 102.0
	feverAfterMedicine  = "NCSU"
)

// afterMedicine is the row as it holds after the medicines before the exam.
func afterMedicine(row ranges.Row, step exam.StepID, c exam.Context) ranges.Row {
	if step != exam.StepID(ranges.TempRectal) || !c.Took(exam.ForPain) {
		return row
	}
	edge := feverAfterMedicineC
	if notation.Unit(row.Unit) == notation.Fahrenheit {
		edge = feverAfterMedicineF
	}
	if tell, ok := row.Tell.Edge(ranges.SideHigh); !ok || tell < edge+0.15 { // 39.2 C and 102.5 F are lowered, the 39.0 C of foals is not
		return row
	}
	if row.Tell.Low != nil && row.Tell.LowSource == "" { // source and evidence are of the high edge from here on
		row.Tell.LowSource, row.Tell.LowEvidence = row.Tell.Source, row.Tell.Evidence
	}
	row.Tell.High, row.Tell.Source, row.Tell.Evidence = &edge, feverAfterMedicine, ranges.CommonPractice
	if row.Class == ranges.AdultLight {
		row.Tell.Evidence = ranges.Published
	}
	return row
}

// hideable are the beginnings of the steps that a medicine can hide or change: fever, heart, gut sounds, pain and the
// signs of danger that are read with them.
func hideable() []string {
	return []string{"temp.", "heart.", "gut.", "pain.", "posture", "demeanour", "gum.colour"}
}

// medicineBeside is the sentence about medicine that stands beside the remark of some places; empty where none does.
func medicineBeside(c exam.Context, steps ...exam.StepID) string {
	touched := func(begin string) bool {
		return slices.ContainsFunc(steps, func(id exam.StepID) bool { return strings.HasPrefix(string(id), begin) })
	}
	if !slices.ContainsFunc(hideable(), touched) {
		return ""
	}
	var parts []string
	if c.Took(exam.ForPain) {
		hides := "Medicine for pain or fever given: it can hide pain and fever."
		if touched("temp.") {
			hides = "Medicine for pain or fever given: it hides fever."
		}
		parts = append(parts, hides)
	}
	if c.Took(exam.ToCalm) {
		parts = append(parts, "Medicine to calm given: it changes heart, gut sounds and behavior.")
	}
	if c.Took(exam.OtherMedicine) {
		parts = append(parts, "Other medicine given.")
	}
	if c.Took(exam.MedicineNotKnown) {
		parts = append(parts, "Medicine in the last 24 hours is not known.")
	}
	if given := notation.CleanLine(c.Given, exam.MaxGiven); given != "" && len(parts) > 0 {
		parts = append(parts, "Given: "+strings.TrimSuffix(given, ".")+".")
	}
	return strings.Join(parts, " ")
}

// withMedicine puts the sentence about medicine behind the reason of a remark that stands out.
func withMedicine(p *judgedVisit, r exam.Remark) exam.Remark {
	if r.Level < ranges.LevelNote {
		return r
	}
	steps := []exam.StepID{r.Step}
	for _, k := range r.Of {
		steps = append(steps, k.Step)
	}
	if r.Medicine = medicineBeside(p.visit.Context, steps...); r.Medicine != "" {
		r.Why = strings.TrimSpace(r.Why + " " + r.Medicine)
	}
	return r
}
