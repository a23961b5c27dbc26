package handoff

import "loosebox/exam"

// medicine is the line that says which medicine the horse had before the exam, or that nobody asked; none where the
// visit was taken from elsewhere or is a rehearsal, and nothing is known of it.
func medicine(v exam.Visit) []string {
	if v.Source != "" && v.Context.MedicineText() == "" {
		return nil
	}
	return []string{v.Context.MedicineLine()}
}

// hides says that a medicine may hide signs, or that this is not known: it is said before the signs.
func hides(c exam.Context) bool {
	return c.MedicineText() != "" && !c.Took(exam.NoMedicine)
}

// said is the line as it is read aloud.
func said(v exam.Visit) []string {
	lines := medicine(v)
	for i := range lines {
		lines[i] = cut(lines[i], 25) + "."
	}
	return lines
}
