package main

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func states() string {
	words := make([]string, len(exam.States()))
	for i, s := range exam.States() {
		words[i] = s.String()
	}
	return strings.Join(words, ", ")
}

// medicineBefore corrects what is said of medicine before the exam in a visit that is open.
func (e *env) medicineBefore(store exam.Store, id exam.VisitID, by string, f examFlags) error {
	said, err := contextOf(examFlags{medicine: f.medicine, given: f.given})
	if err != nil {
		return err
	}
	v, err := store.Visit(id)
	if err != nil {
		return err
	}
	c := v.Context
	c.Medicines, c.Given = said.Medicines, said.Given
	_, err = e.desk(store).Write(exam.Entry{Visit: id, Kind: exam.EntryContext, At: e.now(), By: by, Context: &c})
	return err
}

func contextOf(f examFlags) (exam.Context, error) {
	var c exam.Context
	var err error
	if c.Air, err = exam.ReadAir(f.air, notation.NoUnit); err != nil {
		return c, wrongUse("air", err)
	}
	if c.Humid, err = exam.ReadHumidity(f.humid); err != nil {
		return c, wrongUse("humidity", err)
	}
	if c.Globe, err = exam.ReadAir(f.globe, notation.NoUnit); err != nil {
		return c, wrongUse("wet-bulb-globe", err)
	}
	if c.Medicines, err = exam.ReadMedicines(f.medicine); err != nil {
		return c, wrongUse("medicine", err)
	}
	if c.Given = notation.CleanLine(f.given, exam.MaxGiven); c.Given != "" && (len(c.Medicines) == 0 || c.Medicines[0].Alone()) {
		return c, usage("--given says what was given: --medicine says what for (pain, calm, other)")
	}
	for _, w := range f.states {
		found := false
		for _, s := range exam.States() {
			if w != "" && s.Begins(w) {
				c.States = append(c.States, s)
				found = true
			}
		}
		if !found {
			return c, usage("--state is one of %s, not %q", states(), notation.CleanLine(w, 30))
		}
	}
	return c, nil
}
