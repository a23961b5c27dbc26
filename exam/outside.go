package exam

import (
	"strings"

	"loosebox/exam/notation"
)

// Without says why an injection has no earlier decision. It is written down in one
// line once it was given, with who gave or ordered it.
type Without string

// The ways in which something is given without an earlier decision.
const (
	OwnHands  Without = "by the vet"
	Emergency Without = "emergency"
)

// Withouts lists every way.
func Withouts() []Without { return []Without{OwnHands, Emergency} }

// minEmergency is how many letters say at least what an emergency was.
const minEmergency = 4

// CheckWithout says what is missing of an injection that the veterinarian gave, or
// ordered aloud in an emergency: by is who writes it down, and of an emergency who
// gave it. What the label reads may be unknown. The error is a *notation.Refusal.
func (o Order) CheckWithout(by string) error {
	same := strings.EqualFold(notation.CleanLine(o.Vet, 0), notation.CleanLine(by, 0))
	switch {
	case !oneOf(o.Without, Withouts()):
		return &notation.Refusal{Typed: string(o.Without), Why: "say whether the veterinarian gave it, or ordered it aloud in an emergency"}
	case ProductKey(o.Product) == "":
		return &notation.Refusal{Why: "say which product it was"}
	case notation.CleanLine(o.Vet, 0) == "":
		return &notation.Refusal{Why: "say which veterinarian it was, by name"}
	case !oneOf(o.Route, Routes()):
		return &notation.Refusal{Typed: string(o.Route), Why: "the route is one of: IM, IV, SC, by mouth, in the nose"}
	case o.Without == OwnHands:
		return nil
	case same:
		return &notation.Refusal{Typed: o.Vet, Why: "the person who gives it cannot be the one who orders it: name the veterinarian"}
	case o.How != Here && o.How != ByTelephone:
		return &notation.Refusal{Typed: string(o.How), Why: "an order aloud comes here or by telephone; a standing order is saved as a decision"}
	case len([]rune(notation.CleanLine(o.Emergency, 0))) < minEmergency:
		return &notation.Refusal{Typed: o.Emergency, Why: "say in a few words what the emergency was"}
	}
	if _, err := notation.ReadDose(o.Dose); err != nil {
		return &notation.Refusal{Typed: o.Dose, Why: "say the dose that was ordered, with its unit"}
	}
	return nil
}

// Whose says in words by whom an injection without an earlier decision was given
// or ordered; empty for any other.
func (i Injection) Whose() string {
	o := i.Order
	switch o.Without {
	case OwnHands:
		text := "given by the veterinarian, " + o.Vet + ", without an earlier decision"
		if i.Alone() {
			text += ", and recorded under the same name"
		}
		return text
	case Emergency:
		return "ordered aloud by " + o.Vet + ", " + o.How.String() + ", in an emergency: " + o.Emergency
	}
	return ""
}

// Alone says that the name of the veterinarian who gave it is also that of who
// wrote it down: nobody else's word stands for it.
func (i Injection) Alone() bool {
	return i.Order.Without == OwnHands && strings.EqualFold(notation.CleanLine(i.Order.Vet, 0), notation.CleanLine(i.EndBy, 0))
}
