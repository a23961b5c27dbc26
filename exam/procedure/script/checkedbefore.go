package script

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/ranges/words"
)

// checkedBefore asks once more before a needle, the first or a new one, whose check list was answered before this script ran:
// somebody was away from the horse since.
func (s *injection) checkedBefore(i exam.Injection) *Question {
	if _, err := s.Covering(i.Order, i.Number, s.Now()); err != nil {
		return s.placing(i)
	}
	what := fmt.Sprintf("%s, lot %s, %s, %s mL, %s", notation.CleanLine(i.Order.Product, 40), notation.CleanLine(i.Order.Lot, 30), notation.CleanLine(i.Order.Dose, 30),
		volume.Plain(i.Order.VolumeML), i.Order.Route)
	return s.lookAgain("injection checked before", i.At, i.By, what, "horse, product and dose are the same",
		Option{Key: "x", Words: "not given", Hint: "save that it is not given, and why", Do: func() Move { return next(s.notGiven(i)) }})
}

// checkedBefore is the same before a draw.
func (s *blood) checkedBefore(d exam.Draw) *Question {
	if _, err := s.Drawing(s.Now()); err != nil {
		return s.placing(d)
	}
	kinds := make([]exam.TubeKind, len(d.Order.Tubes))
	for n, t := range d.Order.Tubes {
		kinds[n] = t.Kind
	}
	what := "blood for " + notation.CleanLine(d.Order.For, 40) + ": " + words.Join(kinds)
	return s.lookAgain("draw checked before", d.At, d.By, what, "horse and tubes are the same",
		Option{Key: "x", Words: "not drawn", Hint: "save that no blood is drawn, and why", Do: func() Move { return next(s.stopping(d)) }})
}

func (r *run) lookAgain(id string, at time.Time, by, what, same string, stop Option) *Question {
	return &Question{
		ID: id,
		Head: asks(
			fmt.Sprintf("The check list was answered at %s by %s. Look again before the needle.", notation.ShownAt(at, r.Now()), notation.CleanLine(by, 40)),
			fmt.Sprintf("%s, %s", notation.CleanLine(r.Horse.Name, 40), r.Horse.Kind), what,
		),
		Options: []Option{
			{Key: "a", Words: "looked again: " + same, Do: func() Move {
				r.looked = r.number
				return Move{}
			}},
			stop,
		},
	}
}
