package draw

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// placing is the choice of the vein; the gate is asked again.
func (s *screen) placing(d exam.Draw) flow.Part {
	stop := flow.Extra{Binding: keys.NotDone().With("not drawn", "write down that no blood is drawn, and why"), Do: func() tea.Cmd {
		s.Show(s.stopping(d))
		return nil
	}}
	if _, err := s.Stand.Drawing(s.Deps.Now()); err != nil {
		return flow.NewLocked(s.Screen, err, stop)
	}
	s.tell()
	var notes []string
	if d.Order.Official {
		notes = append(notes, "Drawn by "+exam.CleanLine(d.Order.VetDraws, 60)+", as the law has it.")
	}
	if n := len(d.Sticks); n > 0 {
		notes = append(notes, "No blood came at "+d.Sticks[n-1].Place.String()+". A new needle.")
	}
	if many, is := procedure.Sticks(d); is {
		notes = append(notes, many)
	}
	veins := needle.Veins(s.Stand, s.Deps.Now())
	return flow.NewPlaces(s.Screen, veins, true, strings.Join(notes, " "), func(c procedure.Choice) tea.Cmd { return s.inserting(d, c) }, stop)
}

// inserting is the part before the needle goes in.
func (s *screen) inserting(d exam.Draw, c procedure.Choice) tea.Cmd {
	s.tell()
	before := ""
	if n := len(d.Sticks); n > 0 {
		before = d.Sticks[n-1].Needle
	}
	s.Show(flow.NewNeedle(s.Screen, c, before, needle.DrawNeedle+"; a finer one breaks red cells", func(place exam.Place, which string) tea.Cmd {
		s.lately = s.Stand.Visit.Entries + 1
		return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawNeedleIn, Place: place, Needle: which})
	}, func() flow.Part { return s.placing(d) }))
	return nil
}

// stopping asks why it was stopped, and of a needle that is in how much was drawn.
func (s *screen) stopping(d exam.Draw) flow.Part {
	stop := flow.Stop{
		S: s.Screen, Asks: "Not drawn. Why?", Reasons: needle.WhyNotDrawn(), HoldsML: d.DrawnML(), Back: s.Next,
		Done: func(why string, ml float64, known bool) tea.Cmd {
			return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawStopped, Why: why, VolumeML: ml, NotKnown: !known})
		},
	}
	if _, in := d.NeedleIn(); in {
		stop.Asks, stop.Amount = "Stopped. Why?", "How much was drawn?"
	}
	return stop.Begin()
}
