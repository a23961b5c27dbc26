package needle

import (
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
		out = append(out, answered(p))
	}
	return out
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
