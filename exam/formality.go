package exam

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam/notation"
)

// Formality is what rules of records ask for beside the exam, where somebody wrote it
// down: consent, who was there, a product under control. It stands in a note, whose
// text says the same in words. Fields: 22 TAC 573.52 (who performed or supervised),
// RCVS code 13.1 (consents given or withheld), 21 CFR 1304.22(c) (a product under
// control; its list from memory). This is no legal log: that is kept apart.
type Formality struct {
	Consent    *Consent    `json:"consent,omitempty"`
	Attendance *Attendance `json:"attendance,omitempty"`
	Control    *Control    `json:"control,omitempty"`
}

// Consent is what the owner, or who stands in for the owner, agreed to or refused.
type Consent struct {
	By      string     `json:"by"`
	For     string     `json:"for"`
	How     ConsentHow `json:"how"`
	Refused bool       `json:"refused,omitempty"`
	Words   string     `json:"words,omitempty" text:"note"` // what was said, or why it was refused
}

// ConsentHow is how consent was given.
type ConsentHow string

// The ways of consent.
const (
	ConsentSaid        ConsentHow = "said"
	ConsentByTelephone ConsentHow = "by telephone"
	ConsentWritten     ConsentHow = "in writing"
)

// AllConsents lists every way.
func AllConsents() []ConsentHow {
	return []ConsentHow{ConsentSaid, ConsentByTelephone, ConsentWritten}
}

// Attendance is who was there, and in which role.
type Attendance struct {
	Handler        string `json:"handler,omitempty"` // who held the horse
	ExaminedBy     string `json:"examined_by,omitempty"`
	ExaminedRole   string `json:"examined_role,omitempty"` // veterinarian, technician, student
	SupervisedBy   string `json:"supervised_by,omitempty"`
	SupervisedRole string `json:"supervised_role,omitempty"`
}

// Control is what became of a product under control, in mL: drawn is given and
// wasted, and goes off the balance.
type Control struct {
	Injection     int     `json:"injection,omitempty"`
	Of            Hash    `json:"of,omitempty" text:"-"` // identity of the line that began that injection
	Log           string  `json:"log"`                   // number of the bottle, or of the log
	DrawnML       float64 `json:"drawn_ml"`
	GivenML       float64 `json:"given_ml"`
	WastedML      float64 `json:"wasted_ml"`
	WastedHow     string  `json:"wasted_how,omitempty"`
	BeforeML      float64 `json:"balance_before_ml"`
	AfterML       float64 `json:"balance_after_ml"`
	Second        string  `json:"second_person,omitempty"` // who saw it, another than who gave it
	SecondMissing bool    `json:"nobody_else,omitempty"`
}

// CheckFormality says what is missing of a formality, or does not come out; by signs
// it. The error is a *notation.Refusal.
func (v Visit) CheckFormality(f Formality, by string) error {
	switch {
	case f.Consent != nil:
		return f.Consent.check()
	case f.Attendance != nil:
		if *f.Attendance == (Attendance{}) {
			return &notation.Refusal{Why: "nobody is named"}
		}
		return nil
	case f.Control != nil:
		return v.checkControl(*f.Control, by)
	}
	return &notation.Refusal{Why: "there is nothing to save"}
}

func (c Consent) check() error {
	switch {
	case notation.CleanLine(c.By, 0) == "":
		return &notation.Refusal{Why: "say who gave or refused consent"}
	case notation.CleanLine(c.For, 0) == "":
		return &notation.Refusal{Why: "say what consent was asked for"}
	case !slices.Contains(AllConsents(), c.How):
		return &notation.Refusal{Typed: string(c.How), Why: "consent is said here, said by telephone, or in writing"}
	}
	return nil
}

func (v Visit) checkControl(c Control, by string) error {
	i, ok := v.Injection(c.Injection)
	same := func(a, b float64) bool { return WithinRounding(a, b, 0) || a == b }
	switch second := notation.CleanLine(c.Second, 0); {
	case !ok || !i.Finished():
		return &notation.Refusal{Why: "there is no injection with this number that is over"}
	case notation.CleanLine(c.Log, 0) == "":
		return &notation.Refusal{Why: "say which bottle or log it is"}
	case c.DrawnML <= 0 || c.GivenML < 0 || c.WastedML < 0 || c.BeforeML < 0 || c.AfterML < 0:
		return &notation.Refusal{Why: "amounts are numbers of mL, and more than 0 mL was drawn"}
	case !same(c.DrawnML, c.GivenML+c.WastedML):
		return &notation.Refusal{Why: fmt.Sprintf("drawn %s mL is not given %s mL and wasted %s mL: %s mL are missing", notation.Plain(c.DrawnML), notation.Plain(c.GivenML), notation.Plain(c.WastedML), notation.Plain(c.DrawnML-c.GivenML-c.WastedML))}
	case !same(c.AfterML, c.BeforeML-c.DrawnML):
		return &notation.Refusal{Why: fmt.Sprintf("%s mL before and %s mL drawn leave %s mL, not %s mL", notation.Plain(c.BeforeML), notation.Plain(c.DrawnML), notation.Plain(c.BeforeML-c.DrawnML), notation.Plain(c.AfterML))}
	case !i.NotKnown && !same(c.GivenML, i.GivenML):
		return &notation.Refusal{Why: fmt.Sprintf("injection %d is recorded as %s mL, not %s mL", c.Injection, notation.Plain(i.GivenML), notation.Plain(c.GivenML))}
	case c.WastedML > 0 && notation.CleanLine(c.WastedHow, 0) == "":
		return &notation.Refusal{Why: "say how what is left was wasted"}
	case second == "" && !c.SecondMissing:
		return &notation.Refusal{Why: "name the second person, or say that nobody else is here"}
	case notation.SameName(second, by), notation.SameName(second, i.GivenBy()):
		return &notation.Refusal{Typed: second, Why: "the second person must not be the person who gave it or who enters it"}
	case notation.MayBe(second, i.GivenBy()):
		return &notation.Refusal{Typed: second, Why: notation.AskWho(second, notation.CleanLine(i.GivenBy(), 0)+", who gave it", "groom")}
	case notation.MayBe(second, by):
		return &notation.Refusal{Typed: second, Why: notation.AskWho(second, notation.CleanLine(by, 0)+", who enters it", "groom")}
	}
	return nil
}

// Words is the formality for a person.
func (f Formality) Words(v Visit) string {
	var parts []string
	add := func(format string, texts ...any) { parts = append(parts, fmt.Sprintf(format, texts...)) }
	role := func(what, name, role string) {
		if name != "" && role != "" {
			name += ", " + role
		}
		if name != "" {
			add("%s: %s", what, name)
		}
	}
	switch {
	case f.Consent != nil:
		c := f.Consent
		given := "given"
		if c.Refused {
			given = "refused"
		}
		if add("consent to %s %s by %s, %s", c.For, given, c.By, c.How); c.Words != "" {
			add("%q", c.Words)
		}
	case f.Attendance != nil:
		a := f.Attendance
		role("handler", a.Handler, "")
		role("examined by", a.ExaminedBy, a.ExaminedRole)
		role("supervised by", a.SupervisedBy, a.SupervisedRole)
	case f.Control != nil:
		c := f.Control
		i, _ := v.Injection(c.Injection)
		add("under control, injection %d of %s, %s: drawn %s mL, given %s mL, wasted %s mL", c.Injection, i.Product(), c.Log, notation.Plain(c.DrawnML), notation.Plain(c.GivenML), notation.Plain(c.WastedML))
		if c.WastedHow != "" {
			add("wasted: %s", c.WastedHow)
		}
		add("balance %s mL before, %s mL after", notation.Plain(c.BeforeML), notation.Plain(c.AfterML))
		if role("second person", c.Second, ""); c.SecondMissing {
			add("%s", NobodyElse)
		}
	}
	return strings.Join(parts, "; ")
}

// NoteText is what a note says to a person: a formality in the words of today's tables and with
// today's number of its injection, any other note as it was written.
func (v Visit) NoteText(n VisitNote) string {
	text := n.Text
	if n.Formality != nil {
		text = "For the record: " + n.Formality.Words(v)
	}
	return notation.CleanNote(text)
}
