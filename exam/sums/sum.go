package sums

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Field is one thing that a sum asks.
type Field struct {
	Key   string // stable; the flag of the command
	Label string // at most 15 columns
	Ask   string // what it is and how it is written, "the strength on the label, 50mg/mL or 1%"
	// Of is the same as the other fields stand; nil: always Ask.
	Of func(Values) string
	// Choices are what it is chosen from; empty for text.
	Choices []exam.Choice
	Needed  bool
	// Check refuses a text that is no answer, with a sentence; nil where anything may stand. Empty texts are not shown to it.
	Check  func(text string) error
	Hidden func(Values) bool // nil: always asked
	// Several says that there may be several, separated by commas.
	Several bool
}

// Asked says that the field is asked, as the others stand.
func (f Field) Asked(v Values) bool { return f.Hidden == nil || !f.Hidden(v) }

// Refuses says what is wrong with a text in the field; nil for an empty one.
func (f Field) Refuses(text string) error {
	if f.Check == nil || notation.CleanLine(text, 80) == "" {
		return nil
	}
	return f.Check(notation.CleanLine(text, 80))
}

// Words is what is asked, as the other fields stand.
func (f Field) Words(v Values) string {
	if f.Of != nil {
		return f.Of(v)
	}
	return f.Ask
}

// Values are what stands in the fields, by key.
type Values map[string]string

// Get is what stands in a field, cleaned.
func (v Values) Get(key string) string { return notation.CleanLine(v[key], 80) }

// In is what a sum may know beside its fields.
type In struct {
	Horse    exam.Horse   // the zero value where the sum is about no horse of the record
	Visits   []exam.Visit // of the horse, newest first
	Now      time.Time
	Syringes []volume.Syringe // nil: the built-in table
	Units    notation.Units   // in which the person works
}

// Known says that the sum is about a horse of the record.
func (in In) Known() bool { return in.Horse.ID != "" }

// Result is what a sum comes to, for a person.
type Result struct {
	Head     string
	More     []string // what else came out
	Working  []string // from what was given to the answer
	Warnings []string // to look at twice
	Source   []string // formula, what it rests on, source, evidence
}

// Outcome is what came of a sum: a result for a person, and itself as JSON for a program.
type Outcome interface{ Result() Result }

// Sum is one sum. Work gets fields that are filled in as far as they are; its error is an *notation.Refusal with a sentence
// that says what is missing or wrong.
type Sum struct {
	ID     string // stable: "paste"
	Name   string // of at most 20 columns
	Does   string // a line
	Fields func(In) []Field
	Flags  []Field         // what only the command asks beside them
	Begin  func(In) Values // what is known from the record; never nil
	Work   func(In, Values) (Outcome, error)
}

// All lists the sums in the order in which they are offered.
func All() []Sum { return []Sum{weigh(), dose(), paste(), drip(), deficit(), blood()} }

// Find is the sum of that identity.
func Find(id string) (Sum, bool) {
	for _, s := range All() {
		if s.ID == id {
			return s, true
		}
	}
	return Sum{}, false
}

// missing refuses an empty field.
func missing(f Field) error { return &notation.Refusal{Why: "still to be given: " + f.Ask} }

// complete refuses the first field that is needed, asked and empty.
func complete(fields []Field, v Values) error {
	for _, f := range fields {
		if f.Needed && f.Asked(v) && v.Get(f.Key) == "" {
			return missing(f)
		}
	}
	return nil
}

func texts(list []volume.Warning) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = w.Text
	}
	return out
}
