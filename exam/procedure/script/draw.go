package script

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// blood is a blood draw: what it is for, the tubes in the order of draw with their
// labels, the vein, and each tube as it is filled.
type blood struct {
	run
	sheet *order.BloodSheet
}

func newDraw(at *order.Job, number int, _ Name) Script {
	return &blood{run: run{Job: at, number: number}}
}

// Begun says that the record has it.
func (s *blood) Begun() bool {
	_, ok := s.now()
	return ok
}

func (s *blood) now() (exam.Draw, bool) { return s.Visit.Draw(s.number) }

// Title names the horse and what the blood is for.
func (s *blood) Title() string {
	title := s.named("Blood draw")
	if d, ok := s.now(); ok {
		title += " · " + notation.CleanLine(d.Order.For, 40)
	}
	return title
}

// State says which draw it is and how far.
func (s *blood) State() string {
	d, ok := s.now()
	if !ok {
		return "new"
	}
	return fmt.Sprintf("%d: %s", d.Number, d.State)
}

// Sources says where amounts, tubes, needle and veins come from.
func (s *blood) Sources() []explain.Section {
	if d, ok := s.now(); ok {
		return order.DrawSources(s.before(d), s.kg(), all(d), s.Now())
	}
	if s.sheet == nil {
		return nil
	}
	return s.sheet.Sources()
}

// before is the visit without this draw: the limits hold against what was drawn
// before it.
func (s *blood) before(d exam.Draw) order.Stand {
	stand := s.Stand
	stand.All = order.Without(stand.All, s.Visit.ID, d.Number)
	return stand
}

// kg is the weight of the order, or the record's.
func (s *blood) kg() float64 {
	if s.sheet != nil {
		if q, err := volume.ParseWeight(s.sheet.Get(order.Weight)); err == nil {
			kg, _ := q.In(notation.Kilograms)
			return kg.Value
		}
	}
	return s.Weight(s.Now()).Kg
}

// Next is what comes next for the visit as it stands.
func (s *blood) Next() Move {
	if open := s.Visit.OpenInjections(); len(open) > 0 {
		return s.other(Injection, open[0].Number)
	}
	if open := s.Visit.OpenDraws(); len(open) > 0 && open[0].Number != s.number {
		if s.number > 0 {
			return s.other(BloodDraw, open[0].Number)
		}
		s.number = open[0].Number
	}
	d, begun := s.now()
	if s.Visit.Elsewhere && (!begun || !d.Finished() && len(d.Sticks) == 0) {
		return next(s.elsewhere())
	}
	if !begun {
		return s.begin()
	}
	s.signs(d.By)
	stick, in := d.NeedleIn()
	switch {
	case d.Finished():
		return next(s.ended(d))
	case in && stick.Seq != s.lately:
		return next(s.resume(d, stick))
	case in:
		return next(s.filling(d))
	case s.sheet == nil && s.looked != d.Number:
		return next(s.checkedBefore(d))
	}
	return next(s.placing(d))
}

// begin asks the gate, then what the blood is for. A draw that was ordered and not
// begun is gone on with.
func (s *blood) begin() Move {
	for _, d := range s.Visit.Draws {
		if !d.Finished() && s.sheet == nil {
			s.number = d.Number
			return s.Next()
		}
	}
	if _, err := s.Drawing(s.Now()); err != nil {
		return next(locked(err))
	}
	if s.sheet == nil {
		s.sheet = order.NewBloodSheet(s.Job)
	}
	return next(s.ordering())
}

// ordering is the order form.
func (s *blood) ordering() *Question {
	return &Question{
		ID: "draw order", Stage: procedure.AtDraw, Head: s.behind(), Leaving: "Nothing is saved yet. esc again leaves; what was typed is lost.",
		Form: &Form{Fields: s.sheet.Fields(), To: s.sheet, Action: "to the check list", Does: "check list", Done: s.listed},
	}
}

// listed is the check list, once the order is whole and the gate is open.
func (s *blood) listed() Move {
	o, err := s.sheet.Order()
	if err != nil {
		return say(err.Error())
	}
	decided, err := s.Drawing(s.Now())
	if err != nil {
		return next(locked(err))
	}
	return next(&Question{
		ID: "draw checks", Stage: procedure.AtDraw, Back: s.ordering,
		Checks: &CheckList{order.DrawPoints(s.Stand, o, s.sheet.Over(), decided, s.Now()), func(given []exam.Checked) Move {
			s.number, s.by = len(s.Visit.Draws)+1, s.sheet.Get(order.DrawnBy)
			return write(draws(exam.DrawLine{Number: s.number, Phase: exam.DrawReady, Order: &o, Checks: given}))
		}},
	})
}

// placing is the choice of the vein; the gate is asked again.
func (s *blood) placing(d exam.Draw) *Question {
	stop := Option{Key: "x", Words: "not drawn", Hint: "save that no blood is drawn, and why", Do: func() Move { return next(s.stopping(d)) }}
	if _, err := s.Drawing(s.Now()); err != nil {
		return locked(err, stop)
	}
	var notes []string
	if d.Order.Official {
		notes = append(notes, "Drawn by "+notation.CleanLine(d.Order.VetDraws, 60)+", as the law has it.")
	}
	before := ""
	if n := len(d.Sticks); n > 0 {
		notes = append(notes, "No blood came at "+d.Sticks[n-1].Place.String()+". A new needle.")
		before = d.Sticks[n-1].Needle
	}
	if many, is := procedure.Sticks(d); is {
		notes = append(notes, many)
	}
	return &Question{
		ID: "draw vein", Stage: procedure.AtDraw, Ask: "Which vein?", More: []Option{stop},
		Places: &Places{procedure.Veins(s.All, s.Now()), true, strings.Join(notes, " "), func(c procedure.OfferedPlace) Move {
			return next(inserting(c, procedure.AtDraw, before, order.DrawNeedle+"; a finer one breaks red cells", func(at exam.NeedlePlace, which string) Move {
				s.lately = s.Visit.Entries + 1
				return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawNeedleIn, Place: at, Needle: which}))
			}, func() *Question { return s.placing(d) }))
		}},
	}
}

// stopping asks why it was stopped, and of a needle that is in how much was drawn.
func (s *blood) stopping(d exam.Draw) *Question {
	x := stop{
		id: "draw stopped", asks: "Not drawn. Why?", reasons: WhyNotDrawn(), holdsML: d.DrawnML(), back: back(s),
		done: func(why exam.StopReason, ml float64, known bool) Move {
			return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawStopped, Why: why, VolumeML: ml, NotKnown: !known}))
		},
	}
	if _, in := d.NeedleIn(); in {
		x.asks, x.amount = "Stopped. Why?", "How much was drawn?"
	}
	return x.begin()
}

// extras are the keys that are there while a needle is in.
func (s *blood) extras(d exam.Draw) []Option {
	return []Option{
		{Key: "o", Words: "another tube", Hint: "fill another tube than the next in the order of draw", Do: func() Move { return next(s.another(d)) }},
		{Key: "x", Words: "stop", Hint: "save that the draw is stopped, why, and the amount", Do: func() Move { return next(s.stopping(d)) }},
	}
}

// ended says what is written down, with the labels once more.
func (s *blood) ended(d exam.Draw) *Question {
	return &Question{
		ID: "draw ended", Stage: procedure.AtNeedleOut, Head: s.summary(d), Listed: true, Over: true,
		Ask: fmt.Sprintf("Saved: %s, %s mL.", d.State, volume.Plain(d.DrawnML())),
		Options: []Option{hub(), {Words: "another draw", Do: func() Move {
			s.number, s.lately = 0, 0
			s.sheet = order.NewBloodSheet(s.Job)
			return Move{}
		}}},
	}
}

const drawHelp = `draw guides one blood draw: purpose, tubes in the order of draw, labels, blood limit,
vein and filled tubes. If no decision of the veterinarian
covers it, it ends with code 6.`
