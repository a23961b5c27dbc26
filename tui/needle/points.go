package needle

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/procedure"
)

// Point is a point of a check list with its answers.
type Point struct {
	procedure.Point
	Answers []Answer
	First   int // the answer that is offered; -1 where none is
}

// Answer is one answer to a point.
type Answer struct {
	Words  string
	OK     bool
	Stored string // words that stand in the record
	Ask    bool   // words are asked for
}

var notInOrder = Answer{Words: "not in order", Ask: true}

// Points is the check list before an injection, each point with its answers.
func Points(s Stand, o exam.Order, d exam.Decided, now time.Time) []Point {
	var out []Point
	for _, p := range procedure.CheckList(s.Horse, o, d, now) {
		point := answered(p)
		if p.Key == "time" {
			point.before(s, o, now)
		}
		out = append(out, point)
	}
	return out
}

// lately is how soon the same product again is asked about: a slip of one day's
// work, not an interval between doses.
const lately = 24 * time.Hour

// before adds when the same product went in last; where that was lately, no answer
// is offered, so that nobody gives it twice by pressing enter.
func (p *Point) before(s Stand, o exam.Order, now time.Time) {
	var last exam.Injection
	for _, v := range s.All {
		for _, i := range v.Injections {
			went := i.EndAt != nil && (i.GivenML > 0 || i.NotKnown)
			if went && sameProduct(i.Order.Product, o.Product) && (last.EndAt == nil || i.EndAt.After(*last.EndAt)) {
				last = i
			}
		}
	}
	if last.EndAt == nil {
		return
	}
	amount := "an amount that is not known"
	if !last.NotKnown {
		amount = exam.FormatNumber(last.GivenML, 2) + " mL"
	}
	if now.Sub(*last.EndAt) > lately {
		p.Shown += "; last given " + last.EndAt.Format(exam.DayForm)
		return
	}
	p.Shown = fmt.Sprintf("! %s went in already at %s; once more only on the veterinarian's word", amount, last.EndAt.Format("2006-01-02 15:04"))
	p.First = -1
}

func sameProduct(a, b string) bool {
	return strings.EqualFold(exam.CleanLine(a, 0), exam.CleanLine(b, 0))
}

// DrawPoints is the check list before a blood draw: the points of an injection
// that a draw has too, the tubes, and the limits where the draw crosses one.
func DrawPoints(s Stand, o exam.DrawOrder, over []string, d exam.Decided, now time.Time) []Point {
	var out []Point
	for _, p := range procedure.CheckList(s.Horse, exam.Order{}, d, now) {
		switch p.Key {
		case "horse", "time", "decision", "handler":
			out = append(out, answered(p))
		}
	}
	var kinds []string
	for _, t := range o.Tubes {
		kinds = append(kinds, t.Kind)
	}
	tubes := procedure.Point{Key: "tubes", Asks: "Tubes in date, whole, laid out in the order of draw", Shown: strings.Join(kinds, ", ")}
	out = append(out[:1:1], append([]Point{answered(tubes)}, out[1:]...)...)
	if len(over) > 0 {
		limit := procedure.Point{Key: "blood", Asks: "So much blood: the veterinarian was asked first", Shown: strings.Join(over, " ")}
		out = append(out, answered(limit))
	}
	return out
}

// answered gives a point its answers. How the horse was known is never offered.
func answered(p procedure.Point) Point {
	switch p.Key {
	case "horse":
		return Point{p, []Answer{
			{Words: "chip read", OK: true, Stored: "chip read"}, {Words: "markings compared", OK: true, Stored: "markings compared"}, notInOrder,
		}, -1}
	case "food":
		return Point{p, []Answer{
			{Words: "neither", OK: true, Stored: "neither"},
			{Words: "food, told", OK: true, Stored: "for food, the veterinarian was told"},
			{Words: "competes, told", OK: true, Stored: "competes soon, the veterinarian was told"},
			notInOrder,
		}, -1}
	}
	return Point{p, []Answer{{Words: "in order", OK: true}, notInOrder}, 0}
}
