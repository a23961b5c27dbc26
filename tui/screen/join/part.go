package join

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/tui/screen/form"
)

func (s *screen) buildParting() {
	o := s.Options()
	var choices []exam.Choice
	for i, r := range s.horse.Joined {
		choices = append(choices, exam.Choice{
			Key: string(r.ID), Words: fmt.Sprintf("record %d", i+1),
			Hint: notation.CleanLine(r.Name, 40) + " gets its own visits and details back; cautions added meanwhile stay with both",
		})
	}
	if d := s.said.DisputesOf(s.horse); len(d) > 0 {
		choices = append(choices, exam.Choice{Key: oneHorse, Words: "none: one horse", Hint: settle.Disputed(d[0], s.Deps.Now())})
	}
	choices = append(choices, exam.Choice{Key: "", Words: "none", Hint: "the records stay one horse"})
	s.which = form.NewOneOf("take out", choices, "", o)
	f := form.New(s.Deps.Theme, "part: a horse of its own again", "part").With(s.which, s.why, s.by)
	f.Named(func() (string, string) {
		if s.which.Chosen() == oneHorse {
			return "they stay one horse", "save"
		}
		return "part: a horse of its own again", "part"
	})
	s.Begin(f)
}

// part is what is saved of a joined horse: the record that is taken out, or that it stays one although somebody else said two.
func (s *screen) part(j *exam.Joining) {
	out := s.which.Chosen()
	if out == oneHorse {
		j.Horses = settle.StayOne(s.said.DisputesOf(s.horse)[0]).Horses
		return
	}
	j.Apart, j.Horses = true, []exam.HorseID{exam.HorseID(out)}
	for _, r := range s.horse.Joined {
		if string(r.ID) != out {
			j.Horses = append(j.Horses, r.ID)
		}
	}
}
