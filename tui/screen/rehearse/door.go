package rehearse

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/screen/form"
)

// door is the form before a rehearsal: it shows why the horse is seen, and asks what it had been doing, as at the start of an
// exam.
type door struct {
	horse  *rehearse.Horse
	visit  exam.Visit
	states *form.Several
}

func (s *screen) toDoor(h *rehearse.Horse, v exam.Visit) {
	d := &door{horse: h, visit: v}
	var states []exam.Choice
	for _, state := range exam.States() {
		states = append(states, exam.Choice{Key: string(state), Words: state.String()})
	}
	d.states = form.NewMarks("last 30 minutes", states, nil, []string{string(exam.StateRest)}, s.Options())
	d.states.Hint = "space marks; no mark means that nobody asked"
	s.door, s.Store = d, s.goIn
	s.Begin(form.New(s.Deps.Theme, "go in", "go in").With(d.states))
}

func (s *screen) drawDoor(size layout.Size) []string {
	t, d := s.Deps.Theme, s.door
	a := d.horse.Animal
	lines := []string{t.Strong.Render(layout.Cut(describe(a, d.visit), size.W)), ""}
	lines = append(lines, layout.Wrap("The groom: \""+d.horse.Told()+"\"", size.W)...)
	lines = append(lines, "")
	if s.Saving() {
		lines = append(lines, t.Faint.Render("saving .."))
	}
	return lines
}

// describe is the description of the horse, above the form.
func describe(h exam.Horse, v exam.Visit) string {
	text := notation.CleanLine(h.Name, 0) + ", " + h.Kind.String() + ", " + h.AgeWords(v.OpenedAt)
	for _, more := range []string{h.Sex.String(), h.Breed, h.Colour, h.Place} {
		if more != "" && more != exam.SexUnknown.String() {
			text += ", " + notation.CleanLine(more, 0)
		}
	}
	return text
}
