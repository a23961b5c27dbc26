package start

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
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
	s.medicine.Hint = "medicine in the last 24 hours: ask the groom or owner. Space marks; no mark means that nobody asked."
	s.given = form.NewText("what and when", "", exam.MaxGiven, nil, o).Hint(func(string) string {
		return "what was given and when; may stay empty"
	})
}

// medicineAsked goes once to the line for medicine where nothing is marked in it. Whoever begins again all the same
// begins without an answer, and the record says so.
func (s *screen) medicineAsked() bool {
	if s.asked || s.resuming() || len(s.medicine.Set()) > 0 {
		return true
	}
	s.asked = true
	s.medicine.Hint = "Not asked yet. A medicine can hide fever, pain and a fast heart. Ask now. u: none was given, and begin. ctrl+s again begins without an answer."
	s.Form.Go(s.medicine)
	return false
}

// Update lets u answer the question for medicine, once it is asked, with none, and begin.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	p, ok := msg.(keys.Press)
	if ok && keys.Usual().Is(p) && s.asked && !s.resuming() && !s.Saving() && s.Form.On(s.medicine) && len(s.medicine.Set()) == 0 {
		s.medicine.Put(string(exam.NoMedicine))
		return s.store()
	}
	return s.Screen.Update(msg)
}

// Keys are those of the form, and u where the question for medicine is asked.
func (s *screen) Keys() []keys.Binding {
	list := s.Screen.Keys()
	if s.asked && !s.resuming() && s.Form.On(s.medicine) && len(s.medicine.Set()) == 0 {
		list = append([]keys.Binding{keys.Usual().With("none, begin", "save that no medicine was given, and begin")}, list...)
	}
	return list
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
