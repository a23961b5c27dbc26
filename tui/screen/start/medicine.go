package start

import (
	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/screen/form"
)

// addMedicine makes the line for medicine in the last 24 hours, with nothing marked, and the one for what and when.
func (s *screen) addMedicine(was []exam.Medicine, o entry.Options) {
	var choices []exam.Choice
	var alone []string
	for _, m := range exam.Medicines() {
		choices = append(choices, exam.Choice{Key: string(m), Words: m.String()})
		if m.Alone() {
			alone = append(alone, string(m))
		}
	}
	s.medicine = form.NewMarks("medicine, 24 h", choices, keysOf(was), alone, o)
	s.medicine.Hint = "medicine in the last 24 hours; ask the groom or owner. Space marks; with nothing marked the record says that nobody asked."
	s.given = form.NewText("what and when", "", exam.MaxGiven, nil, o).Hint(func(string) string {
		return "in your own words, with the time it was given; may stay empty"
	})
}

// medicineAsked goes once to the line for medicine where nothing is marked in it. Whoever begins again all the same
// begins without an answer, and the record says so.
func (s *screen) medicineAsked() bool {
	if s.asked || s.resuming() || len(s.medicine.Set()) > 0 {
		return true
	}
	s.asked = true
	s.medicine.Hint = "Not asked yet. A medicine hides fever, pain and a fast heart. Ask now: a number, then space. ctrl+s again begins without an answer."
	s.Form.Go(s.medicine)
	return false
}

// noMedicine hides what and when where no medicine was marked.
func (s *screen) noMedicine() bool {
	for _, key := range s.medicine.Set() {
		if !exam.Medicine(key).Alone() {
			return false
		}
	}
	return true
}

// withMedicine adds what was answered of it.
func (s *screen) withMedicine(c exam.Context) exam.Context {
	for _, key := range s.medicine.Set() {
		c.Medicines = append(c.Medicines, exam.Medicine(key))
	}
	if !s.noMedicine() {
		c.Given = s.given.Content()
	}
	return c
}
