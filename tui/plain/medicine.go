package plain

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// medicineForm says how medicine in the last 24 hours is answered.
const medicineForm = "none; not known; for pain or fever; to calm; other. With commas, then a colon and what and when"

// askMedicine asks a person once about medicine in the last 24 hours, before the first answer. A script says
// it by the flag, or by a line that begins with medicine.
func (s *Session) askMedicine() error {
	if !s.Terminal || s.Horse != nil || len(s.visit.Context.Medicines) > 0 || len(s.visit.Findings) > 0 {
		return nil
	}
	s.line("Medicine in the last 24 hours? One or more of: %s. Enter alone: not asked.", medicineForm)
	for s.failed == nil {
		text, err := s.reply()
		if err != nil || text == "" {
			return err
		}
		if done, err := s.medicine(text); done || err != nil {
			return err
		}
	}
	return s.failed
}

// medicine stores what was given before the exam, in place of what was said of it before; it says whether it was taken.
func (s *Session) medicine(text string) (bool, error) {
	kinds, given, _ := strings.Cut(text, ":")
	list, err := exam.ReadMedicines(kinds)
	given = notation.CleanLine(given, exam.MaxGiven)
	switch {
	case err != nil:
		s.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
		return false, nil
	case len(list) == 0:
		s.line("Type one or more of: %s.", medicineForm)
		return false, nil
	case given != "" && list[0].Alone():
		s.line("Not saved: %q stands alone. What was given needs: for pain or fever, to calm, other.", list[0])
		return false, nil
	}
	c := s.visit.Context
	c.Medicines, c.Given = list, given
	if err := s.store(exam.Entry{Kind: exam.EntryContext, Context: &c}); err != nil {
		return false, err
	}
	s.line("Saved. %s", s.visit.Context.MedicineLine())
	return true, nil
}
