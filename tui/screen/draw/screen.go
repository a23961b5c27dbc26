// Package draw is the screen of one blood draw: what it is for, the tubes in the
// order of draw with their labels, the vein, and each tube as it is filled. One
// file holds one part.
package draw

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// screen is the flow of a blood draw over its screen.
type screen struct {
	*flow.Screen
	number int
	sheet  *needle.BloodSheet
	// lately is the entry of the needle that went in while this screen was open; of
	// any other the person is asked what happened.
	lately int
}

// New makes the screen of the draw in the address; number 0 begins one, or goes on
// with the one whose needle is in.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	to.Screen = nav.Draw
	s := &screen{Screen: flow.New(deps, to), number: to.Number}
	s.Run(s)
	return s.Screen
}

// Number is that of the draw; 0 while nothing is written down.
func (s *screen) Number() int { return s.number }

// Title names the horse and what the blood is for.
func (s *screen) Title() string {
	title := "Blood draw: " + s.Horse()
	if d, ok := s.draw(); ok {
		title += " · " + exam.CleanLine(d.Order.For, 40)
	}
	return title
}

// Right says which draw it is and how far.
func (s *screen) Right() string {
	d, ok := s.draw()
	if !ok {
		return "new"
	}
	return fmt.Sprintf("%d: %s", d.Number, d.State)
}

// Sources says where amounts, tubes, needle and veins come from.
func (s *screen) Sources() []explain.Part {
	if d, ok := s.draw(); ok {
		now, stand := s.Deps.Now(), s.Stand
		ml := d.DrawnML()
		for _, t := range needle.TubesLeft(d) {
			ml += t.ML
		}
		stand.All = needle.Without(stand.All, s.ID, d.Number)
		return needle.DrawSources(stand, s.kg(), ml, now)
	}
	if s.sheet == nil {
		return nil
	}
	return s.sheet.Sources()
}

func (s *screen) draw() (exam.Draw, bool) { return s.Stand.Visit.Draw(s.number) }

// Next is the part for the visit as it stands.
func (s *screen) Next() flow.Part {
	v := s.Stand.Visit
	if open := v.OpenInjections(); len(open) > 0 {
		return flow.NewOther(s.Screen, nav.Injection, open[0].Number)
	}
	if open := v.OpenDraws(); len(open) > 0 && open[0].Number != s.number {
		if s.number > 0 {
			return flow.NewOther(s.Screen, nav.Draw, open[0].Number)
		}
		s.number = open[0].Number
	}
	d, _ := s.draw()
	if d.Number > 0 {
		s.By = d.By
	}
	switch needle.StageOfDraw(d) {
	case needle.Placing:
		return s.placing(d)
	case needle.Giving:
		return s.filling(d)
	case needle.Ended:
		return s.ended(d)
	case needle.Ordering, needle.Seeing:
	}
	return s.begin()
}

// begin asks the gate, then what the blood is for. A draw that was ordered and
// not begun is gone on with.
func (s *screen) begin() flow.Part {
	for _, d := range s.Stand.Visit.Draws {
		if !d.Finished() && s.sheet == nil {
			s.number = d.Number
			return s.Next()
		}
	}
	if _, err := s.Stand.Drawing(s.Deps.Now()); err != nil {
		return flow.NewLocked(s.Screen, err)
	}
	if s.sheet == nil {
		s.sheet = needle.NewBloodSheet(s.Deps, s.Stand)
	}
	return s.ordering()
}

func (s *screen) tell() { s.Tell(procedure.AtDraw) }
