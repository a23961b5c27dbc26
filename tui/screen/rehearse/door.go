package rehearse

import (
	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/entry"
	"loosebox/tui/layout"
	"loosebox/tui/screen/form"
)

// door is where the keeper says why the horse is seen, and the trainee writes
// down what it had been doing, as at the start of an exam.
type door struct {
	horse  *rehearse.Horse
	visit  exam.Visit
	form   *form.Form
	states *form.Marks
}

func (s *screen) toDoor(h *rehearse.Horse, v exam.Visit) {
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	d := &door{horse: h, visit: v, form: form.New(s.deps.Theme, "go in", "go in")}
	var states []exam.Choice
	for _, state := range exam.States() {
		states = append(states, exam.Choice{Key: string(state), Words: string(state)})
	}
	d.states = form.NewMarks("last 30 minutes", states, nil, []string{string(exam.StateRest)}, o)
	d.states.Hint = "space marks; with nothing marked the record says that nobody asked"
	d.form.Add(d.states, nil)
	s.door = d
}

func (s *screen) drawDoor(size layout.Size) []string {
	t, d := s.deps.Theme, s.door
	a := d.horse.Animal
	lines := []string{t.Strong.Render(layout.Cut(describe(a, d.visit), size.W)), ""}
	lines = append(lines, layout.Wrap("The keeper: \""+d.horse.Told()+"\"", size.W)...)
	lines = append(lines, "")
	if s.saving {
		lines = append(lines, t.Faint.Render("storing .."))
	}
	return append(lines, d.form.Lines(layout.Size{W: size.W, H: max(size.H-len(lines), 1)})...)
}

// describe is the card on the door.
func describe(h exam.Horse, v exam.Visit) string {
	text := exam.CleanLine(h.Name, 0) + ", " + string(h.Kind) + ", " + h.AgeWords(v.OpenedAt)
	for _, more := range []string{string(h.Sex), h.Breed, h.Colour, h.Place} {
		if more != "" && more != string(exam.SexUnknown) {
			text += ", " + exam.CleanLine(more, 0)
		}
	}
	return text
}
