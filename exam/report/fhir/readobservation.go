package fhir

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// refuses says that a resource is of a visit of which nothing is taken.
func (r *reader) refuses(res *resource, meeting *reference) bool {
	if r.refused[res.url] || meeting != nil && r.refused[meeting.Reference] {
		r.rest = append(r.rest, res)
		return true
	}
	return false
}

func (r *reader) readObservation(res *resource) error {
	o, err := as[observation](res)
	if err != nil {
		return err
	}
	animal, _, err := r.animal(o.Subject)
	switch {
	case err != nil:
		return err
	case r.refuses(res, &o.Encounter):
		return nil
	case o.Status == inError:
		return errors.New("it was entered in error")
	}
	e := exam.Entry{At: moment(o.EffectiveDateTime)}
	for _, p := range o.Performer[:min(len(o.Performer), 1)] {
		e.By = r.person(p)
	}
	if e.By == "" {
		e.By = "not known"
	}
	if e.At.IsZero() {
		return errors.New("it has no moment")
	}
	if about := o.Code.code(systemNote); about != "" {
		return r.readNote(animal, o, e, about)
	}
	if c, ok := contextOf(o); ok {
		v := r.visit(animal, o.Encounter.Reference, e.At)
		v.before(e, c)
		return nil
	}
	step, ok := r.step(o.Code)
	if !ok {
		return errors.New("no step of an exam here stands for its code")
	}
	e.Kind, e.Step = exam.EntryFinding, step.ID
	if e.Site, err = siteOf(step, o); err != nil {
		return err
	}
	n := notesOf(o.Note)
	if o.DataAbsentReason != nil {
		e.Kind, e.Reason = exam.EntryNotDone, notation.CleanLine(o.DataAbsentReason.words(), 0)
		if e.Reason == "" {
			e.Reason = string(exam.ReasonNotRecorded)
		}
	} else {
		value, err := valueOf(step, o)
		if err != nil {
			return err
		}
		e.Value = &value
		n.drop(scaleWords(step, value))
	}
	e.Note = n.free()
	v := r.visit(animal, o.Encounter.Reference, e.At)
	if v.By == "" {
		v.By = e.By
	}
	return v.answered(step, e, n)
}

// scaleWords are those that the writer sets beside a score; empty for any other value.
func scaleWords(step exam.Step, v exam.Value) string {
	if step.Kind != exam.KindScale || nominal(step.ID) || len(v.Words) != 1 {
		return ""
	}
	c, _ := step.Choice(v.Words[0])
	return notation.CleanNote(c.Words)
}

// drop takes one text out of the free words, from behind.
func (n *notes) drop(text string) {
	for i := len(n.text) - 1; i >= 0 && text != ""; i-- {
		if n.text[i] == text {
			n.text = slices.Delete(n.text, i, i+1)
			return
		}
	}
}

// readNote takes a note in words, to a step or to the visit.
func (r *reader) readNote(animal *resource, o observation, e exam.Entry, about string) error {
	e.Kind, e.Note = exam.EntryNote, notation.CleanNote(o.ValueString)
	if e.Note == "" {
		return errors.New("it has no words")
	}
	if about != noteOfVisit {
		step, ok := r.steps.ByID(exam.StepID(about))
		if !ok {
			return errors.New("it is to a step that is not known here")
		}
		e.Step = step.ID
		var err error
		if e.Site, err = siteOf(step, o); err != nil {
			return err
		}
	}
	v := r.visit(animal, o.Encounter.Reference, e.At)
	v.told = append(v.told, notesOf(o.Note).chain(&told{Entry: e}, func(said string) (exam.Entry, bool) {
		return exam.Entry{Kind: exam.EntryNote, Step: e.Step, Site: e.Site, Note: said}, said != ""
	})...)
	return nil
}

// contextOf is what an Observation says of the animal before the exam; false for any other.
func contextOf(o observation) (exam.Context, bool) {
	var c exam.Context
	states, medicines := o.Code.code(systemState) != "", o.Code.code(systemMedicine) != ""
	for _, part := range o.Component {
		state, medicine := exam.State(part.Code.code(systemState)), exam.Medicine(part.Code.code(systemMedicine))
		if slices.Contains(exam.States(), state) {
			c.States = append(c.States, state)
		}
		if slices.Contains(exam.Medicines(), medicine) {
			c.Medicines = append(c.Medicines, medicine)
		}
	}
	if medicines {
		c.Given = notesOf(o.Note).free()
	}
	return c, states || medicines
}

// before joins what is said of before the exam to one line.
func (v *readVisit) before(e exam.Entry, c exam.Context) {
	i := slices.IndexFunc(v.told, func(t *told) bool { return t.Kind == exam.EntryContext })
	if i < 0 {
		e.Kind, e.Context = exam.EntryContext, &exam.Context{}
		v.told = append(v.told, &told{Entry: e})
		i = len(v.told) - 1
	}
	own := v.told[i].Context
	own.States, own.Medicines = append(own.States, c.States...), append(own.Medicines, c.Medicines...)
	if c.Given != "" {
		own.Given = c.Given
	}
}

// step is the step that a code stands for: this program's own, or a LOINC code that is written for one.
func (r *reader) step(code concept) (exam.Step, bool) {
	if own := code.code(systemStep); own != "" {
		return r.steps.ByID(exam.StepID(own))
	}
	for _, c := range code.Coding {
		for _, id := range slices.Sorted(maps.Keys(known)) {
			if c.System == systemLOINC && slices.Contains(known[id], c.Code) {
				return r.steps.ByID(id)
			}
		}
	}
	return exam.Step{}, false
}

func siteOf(step exam.Step, o observation) (exam.Site, error) {
	text := ""
	if o.BodySite != nil {
		text = o.BodySite.words()
	}
	if text == "" && len(step.Sites) == 0 {
		return exam.NoSite, nil
	}
	for _, s := range append(slices.Clone(step.Sites), exam.Overall) {
		if strings.EqualFold(s.String(), text) || strings.EqualFold(string(s), text) {
			return s, nil
		}
	}
	if len(step.Sites) == 0 {
		return exam.NoSite, nil
	}
	return "", fmt.Errorf("%q is no site of %s", notation.CleanLine(text, 40), strings.ToLower(step.Name))
}
