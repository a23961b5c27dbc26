package exam

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// ErrRefused is what every refusal wraps that only a decision of the
// veterinarian can lift.
var ErrRefused = errors.New("refused")

// ErrDiffers is what a refusal wraps as well where an order is not what the
// veterinarian decided: the changed order, once it is saved, lifts it.
var ErrDiffers = errors.New("differs from the veterinarian's order")

// Locked says why a procedure may not be entered, in a sentence for a person.
type Locked struct {
	Why     string
	differs bool
}

// Error is the sentence.
func (l *Locked) Error() string { return l.Why }

// Is makes errors.Is(err, ErrRefused) true, and errors.Is(err, ErrDiffers) where
// the order differs.
func (l *Locked) Is(target error) bool {
	return target == ErrRefused || l.differs && target == ErrDiffers
}

// Lock is a *Locked with its sentence.
func Lock(format string, args ...any) error { return &Locked{Why: fmt.Sprintf(format, args...)} }

// LockDiffers is a *Locked for an order that is not what was decided.
func LockDiffers(format string, args ...any) error {
	return &Locked{Why: fmt.Sprintf(format, args...), differs: true}
}

// Ruling is what the veterinarian said is to be done.
type Ruling string

// The rulings.
const (
	GoAhead Ruling = "go ahead"
	Wait    Ruling = "wait"
	Stop    Ruling = "stop"
)

// Rulings lists every ruling.
func Rulings() []Ruling { return []Ruling{GoAhead, Wait, Stop} }

// Means is how a decision or a hand-off reached the other person.
type Means string

// The means.
const (
	Here          Means = "here"
	ByTelephone   Means = "by telephone"
	StandingOrder Means = "standing written order"
)

// AllMeans lists every means.
func AllMeans() []Means { return []Means{Here, ByTelephone, StandingOrder} }

// ProcedureKind is an injection or a blood draw.
type ProcedureKind string

// The procedures.
const (
	Injecting ProcedureKind = "injection"
	Drawing   ProcedureKind = "blood draw"
)

// CoveredProcedure is one thing that a decision speaks of: a procedure, for an injection
// with its product.
type CoveredProcedure struct {
	Kind    ProcedureKind `json:"kind"`
	Product string        `json:"product,omitempty"`
	Route   Route         `json:"route,omitempty"` // empty: any route of the label
	Dose    string        `json:"dose,omitempty"`  // as the veterinarian said it, with its unit
	// Times is how often the dose is given, HoursApart the least hours between two
	// of them, Sites over how many sites one dose is divided; all 0 for one dose in
	// one site.
	Times      int     `json:"times,omitempty"`
	HoursApart float64 `json:"hours_apart,omitempty"`
	Sites      int     `json:"sites,omitempty"`
	// For is what a blood draw is for, in the veterinarian's words.
	For string `json:"for,omitempty"`
}

// String is the cover for a person: "injection of X, IM".
func (c CoveredProcedure) String() string {
	text := c.Kind.String()
	if c.Product != "" {
		text += " of " + c.Product
	}
	if c.For != "" {
		text += " for " + c.For
	}
	if c.Route != "" {
		text += ", " + c.Route.String()
	}
	return text
}

// Decision is what the veterinarian decided, in words.
type Decision struct {
	Words  string `json:"words" text:"note"` // the veterinarian's own; for a standing order which one it is
	Vet    string `json:"vet"`
	How    Means  `json:"how"`
	Ruling Ruling `json:"ruling"`
	// Covers lists what the ruling holds for; none means everything, which only
	// wait and stop may do.
	Covers []CoveredProcedure `json:"covers,omitempty" most:"64,a decision"`
	// Until is the last moment at which it holds; nil for DecisionLasts after it
	// was written down.
	Until *time.Time `json:"until,omitempty"`
	// ReadBack says that the words were read back to the veterinarian.
	ReadBack bool `json:"read_back,omitempty"`
	// AfterClosing says that it was made after the visit was closed; the desk sets it.
	AfterClosing bool `json:"after_closing,omitempty"`
}

// DecisionLasts is how long a decision without an end holds. It is a rule of
// this program, not of a law: yesterday's word is asked for again.
const DecisionLasts = 24 * time.Hour

// Signed says when, by whom and in which entry something was written down.
type Signed struct {
	At  time.Time `json:"at"`
	By  string    `json:"by"`
	Seq int       `json:"seq"`
}

// Decided is a decision as it stands in a visit.
type Decided struct {
	Decision
	Signed
	Corrected bool `json:"corrected,omitempty"` // by a later entry: it covers nothing
	// First says who first wrote down, and when, what this decision corrects; nil
	// where it corrects none.
	First *Signed `json:"first,omitempty"`
	// Without are earlier entries of the visit that its writer did not hold.
	Without []int `json:"made_without,omitempty"`
}

// Check says what is missing of a decision before it is written down; the error
// is a *notation.Refusal.
func (d Decision) Check() error {
	switch {
	case notation.CleanLine(d.Words, 0) == "":
		return &notation.Refusal{Why: "a decision needs the veterinarian's own words"}
	case notation.CleanLine(d.Vet, 0) == "":
		return &notation.Refusal{Why: "type the veterinarian's name"}
	case !oneOf(d.Ruling, Rulings()):
		return &notation.Refusal{Typed: string(d.Ruling), Why: "a decision is one of: go ahead, wait, stop"}
	case !oneOf(d.How, AllMeans()):
		return &notation.Refusal{Typed: string(d.How), Why: "a decision is given here, by telephone, or by a standing written order"}
	case d.Ruling == GoAhead && len(d.Covers) == 0:
		return &notation.Refusal{Why: "go ahead with what? Name the procedure, and for an injection its product"}
	}
	for _, c := range d.Covers {
		switch {
		case c.Kind != Injecting && c.Kind != Drawing:
			return &notation.Refusal{Typed: string(c.Kind), Why: "a decision covers an injection or a blood draw"}
		case c.Kind == Injecting && d.Ruling == GoAhead && ProductKey(c.Product) == "":
			return &notation.Refusal{Why: "a go-ahead for an injection names its product"}
		case c.Kind == Injecting && d.Ruling == GoAhead && notation.CleanLine(c.Dose, 0) == "":
			return &notation.Refusal{Why: "a go-ahead for an injection names its dose: 10 mL, 2.2 mg/kg, or 1 dose. Ask the veterinarian"}
		}
	}
	return nil
}

// Concerns says that the decision speaks of the procedure.
func (d Decision) Concerns(p Procedure) bool {
	if len(d.Covers) == 0 {
		return d.Ruling != GoAhead
	}
	_, ok := d.Cover(p)
	return ok
}

// Cover is the first thing named in the decision that is the procedure; false for
// none. Of a go-ahead it is the order for it.
func (d Decision) Cover(p Procedure) (CoveredProcedure, bool) {
	for _, c := range d.Covers {
		if c.Kind != p.Kind {
			continue
		}
		anyProduct := d.Ruling != GoAhead && c.Product == ""
		if p.Kind == Injecting && !anyProduct && ProductKey(c.Product) != ProductKey(p.Product) {
			continue
		}
		// A word to wait holds whatever the route; a go-ahead only for the route it names.
		if d.Ruling != GoAhead || c.Route == "" || p.Route == "" || c.Route == p.Route {
			return c, true
		}
	}
	return CoveredProcedure{}, false
}

// ProductKey makes two spellings of one name equal: case and white space.
func ProductKey(name string) string { return strings.ToLower(notation.CleanLine(name, 0)) }

func oneOf[T comparable](v T, list []T) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// Procedure is what somebody is about to do, as authorization.CheckProcedure takes it.
type Procedure struct {
	Kind    ProcedureKind
	Product string // of an injection
	Route   Route
	At      time.Time // now
	// Order is the order that is checked against the decision; nil where it is only
	// asked whether one may begin.
	Order *Order
	// Number is that of an injection that is begun already; 0 for a new one.
	Number int
}

// Since says when the decision was first written down. A correction puts right
// what was written, not what the veterinarian knew then: it stands from there on.
func (d Decided) Since() Signed {
	if d.First != nil {
		return *d.First
	}
	return d.Signed
}

// Ends is the last moment at which the decision holds.
func (d Decided) Ends() time.Time {
	if d.Until != nil {
		return *d.Until
	}
	return d.Since().At.Add(DecisionLasts)
}
