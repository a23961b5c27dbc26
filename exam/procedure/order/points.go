package order

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/ranges/words"
)

// AnsweredPoint is a point of a check list with its answers.
type AnsweredPoint struct {
	procedure.CheckPoint
	Answers []Answer
}

// Answer is one answer to a point.
type Answer struct {
	// Press is the letter that gives the answer. No other point of the list has it,
	// so that one key pressed over and over goes through no list.
	Press string
	Words string
	OK    bool
	// InOrder marks the answer that says no more than that the point is in order.
	InOrder bool
	Stored  exam.CheckAnswer // what stands in the record; empty where words are asked for
	// Ask asks for words, and is the question; Check refuses words.
	Ask   string
	Check func(text string) error
}

// NotInOrder is the letter that says of any point that it is not in order.
const NotInOrder = "x"

func notInOrder() Answer {
	return Answer{Press: NotInOrder, Words: notOrderly.String(), Ask: "What is not in order?", Check: func(text string) error {
		if len([]rune(notation.CleanLine(text, 0))) < 3 {
			return &notation.Refusal{Why: "say in a few words what is not in order"}
		}
		return nil
	}}
}

// Points is the check list before an injection that a person gives, each point
// with its answers.
func Points(s Stand, o exam.Order, d exam.Decided, by string, now time.Time) []AnsweredPoint {
	var out []AnsweredPoint
	for _, p := range procedure.CheckList(s.Horse, o, d, now) {
		point := answered(p, by)
		if p.Key == "time" {
			point.before(s, o, now)
		}
		out = append(out, point)
		if moved := s.movedWeight(o, d, now); moved != "" && p.Key == "dose" {
			out = append(out, weightPoint(moved, by))
		}
	}
	return out
}

// lately is how soon the same product again is asked about: a slip of one day's
// work, not an interval between doses.
const lately = 24 * time.Hour

// before adds when the same product went in last. Where that was lately the point
// takes another letter than it always does, so that nobody gives it twice by habit.
func (p *AnsweredPoint) before(s Stand, o exam.Order, now time.Time) {
	var last exam.Injection
	for _, v := range s.All {
		for _, i := range v.Injections {
			went := i.EndAt != nil && (i.GivenML > 0 || i.NotKnown)
			if went && sameProduct(i.Order.Product, o.Product) && (last.EndAt == nil || i.EndAt.After(*last.EndAt)) {
				last = i
			}
		}
	}
	if last.EndAt != nil {
		p.again(amount(last.GivenML, last.NotKnown)+" was given", "given", *last.EndAt, now)
	}
}

// drawnBefore is the same of blood.
func (p *AnsweredPoint) drawnBefore(s Stand, now time.Time) {
	var last exam.Draw
	for _, v := range s.All {
		for _, d := range v.Draws {
			if d.EndAt != nil && (d.DrawnML() > 0 || d.NotKnown) && (last.EndAt == nil || d.EndAt.After(*last.EndAt)) {
				last = d
			}
		}
	}
	if last.EndAt != nil {
		p.again(amount(last.DrawnML(), last.NotKnown)+" of blood was drawn", "drawn", *last.EndAt, now)
	}
}

// amount is how much went in or was drawn.
func amount(ml float64, notKnown bool) string {
	if notKnown {
		return "an amount that is not known"
	}
	return notation.FormatNumber(ml, 2) + " mL"
}

// again says what was done before, and when; lately it is asked about.
func (p *AnsweredPoint) again(what, done string, at, now time.Time) {
	if now.Sub(at) > lately {
		p.Shown += "; last " + done + " " + notation.ShownOn(at, now)
		return
	}
	p.Shown = fmt.Sprintf("Check: %s already at %s; again only if the veterinarian says so", what, notation.ShownAt(at, now))
	p.Answers[0] = Answer{Press: "g", Words: againOrdered.String(), OK: true, Stored: exam.AgainOrdered}
}

func sameProduct(a, b string) bool {
	return strings.EqualFold(notation.CleanLine(a, 0), notation.CleanLine(b, 0))
}

// DrawPoints is the check list before a blood draw: the points of an injection
// that a draw has too, the tubes, and the limits where the draw crosses one.
func DrawPoints(s Stand, o exam.DrawOrder, over []string, d exam.Decided, now time.Time) []AnsweredPoint {
	var out []AnsweredPoint
	for _, p := range procedure.CheckList(s.Horse, exam.Order{}, d, now) {
		switch p.Key {
		case "horse", "time", "decision", "handler":
			point := answered(p, "")
			if p.Key == "time" {
				point.drawnBefore(s, now)
			}
			out = append(out, point)
		}
	}
	var kinds []exam.TubeKind
	for _, t := range o.Tubes {
		kinds = append(kinds, t.Kind)
	}
	tubes := procedure.CheckPoint{Key: "tubes", Asks: procedure.PointAsks("tubes"), Shown: words.Join(kinds)}
	out = append(out[:1:1], append([]AnsweredPoint{answered(tubes, "")}, out[1:]...)...)
	if len(over) > 0 {
		limit := procedure.CheckPoint{Key: "blood", Asks: procedure.PointAsks("blood"), Shown: strings.Join(over, " ")}
		out = append(out, answered(limit, ""))
	}
	return out
}

// answered gives a point its answers; by is who gives the dose.
func answered(p procedure.CheckPoint, by string) AnsweredPoint {
	var list []Answer
	switch p.Key {
	case "horse":
		list = []Answer{
			{Press: "c", Words: exam.ChipRead.String(), OK: true, Stored: exam.ChipRead},
			{Press: "m", Words: exam.MarkingsCompared.String(), OK: true, Stored: exam.MarkingsCompared},
		}
	case procedure.SecondPerson:
		list = []Answer{
			{Press: "n", Words: checkedBy.String(), OK: true, Ask: "Who checked it?", Check: otherThan(by)},
			{Press: "o", Words: exam.NobodyElse.String(), Stored: exam.NobodyElse},
		}
	case "food":
		list = []Answer{
			{Press: "f", Words: exam.NeitherFoodSport.String(), OK: true, Stored: exam.NeitherFoodSport},
			{Press: "a", Words: foodTold.String(), OK: true, Stored: exam.FoodTold},
			{Press: "w", Words: competesTold.String(), OK: true, Stored: exam.CompetesTold},
		}
	default:
		list = []Answer{{Press: pointLetters[p.Key], Words: orderly.String(), OK: true, InOrder: true}}
	}
	if p.Key != procedure.SecondPerson {
		list = append(list, notInOrder())
	}
	return AnsweredPoint{p, list}
}

// pointLetters are the letters of the points that are in order or not. They keep
// clear of h, s and x, which work at every point.
var pointLetters = map[string]string{
	"product": "p", "dose": "d", "route": "r", "time": "t", "expiry": "e", "decision": "v", "reactions": "k", "handler": "b", "tubes": "u", "blood": "l",
}

// otherThan refuses what is no name, and the name of who gives the dose.
func otherThan(by string) func(string) error { return nameOther("the second person", "groom", by) }

// vetOtherThan is the same of the veterinarian.
func vetOtherThan(by string) func(string) error {
	return nameOther("the veterinarian", "veterinarian", by)
}

// nameOther refuses a name that is, or may be, that of who gives the dose; as is what somebody else of that name may be.
func nameOther(who, as, by string) func(string) error {
	return func(text string) error {
		name := notation.CleanLine(text, 0)
		switch {
		case !notation.IsName(name):
			return &notation.Refusal{Typed: name, Why: "write the name of " + who}
		case notation.SameName(name, by):
			return &notation.Refusal{Typed: name, Why: who + " must not be " + name + ", who gives it"}
		case notation.MayBe(name, by):
			return &notation.Refusal{Typed: name, Why: notation.AskWho(name, by+", who gives it", as)}
		}
		return nil
	}
}

// Wrong says that an answer of a check list is for the veterinarian: the point is
// not in order. That nobody else was there is not.
func Wrong(c exam.Checked) bool {
	return !c.OK && (c.Key != procedure.SecondPerson || c.Words != exam.NobodyElse)
}
