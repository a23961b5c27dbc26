package order

import (
	"loosebox/exam"
	"loosebox/exam/notation"
)

// Field is one thing that an order asks, described once: a line of the form on the
// screen, and a question of the plain prompts.
type Field struct {
	Key   string
	Label string // at most 15 columns
	Ask   string // the question as a sentence
	Limit int    // characters; 0 for notation.MaxLine
	// Choices are what it is chosen from; empty for free text. Many lets several
	// be marked: the answer is then their keys, with commas. Counted asks how many
	// of each: the answer is "serum, 2 EDTA".
	Choices []exam.Choice
	Many    bool
	Counted bool
	// Proposed is the choice that stands until a person makes one, as far as the
	// other answers go; nil where what stands does not depend on them.
	Proposed func() string
	// Check refuses an answer with a sentence; nil takes any.
	Check func(text string) error
	// Hint is shown beside the answer while it is given; nil for none.
	Hint func(text string) string
	// Hidden says that it is not asked now; nil never does.
	Hidden func() bool
	// Spare is a line of the form that the prompts do not ask for.
	Spare bool
}

// Off says that the field is not asked now.
func (f Field) Off() bool { return f.Hidden != nil && f.Hidden() }

// Refused is the error of the field's check.
func (f Field) Refused(text string) error {
	if f.Check == nil {
		return nil
	}
	return f.Check(text)
}

// Answers are what stands in the fields of a form.
type Answers map[string]string

// Get is what stands in a field, cleaned.
func (a Answers) Get(key string) string { return notation.CleanLine(a[key], 0) }

// Put writes an answer into a field.
func (a Answers) Put(key, text string) { a[key] = text }

// Needed is a check for a field that may not be empty.
func Needed(what string) func(string) error {
	return func(text string) error {
		if notation.CleanLine(text, 0) == "" {
			return &notation.Refusal{Why: what}
		}
		return nil
	}
}

// NamedIfAny is Named for a field that may stay empty.
func NamedIfAny(what string) func(string) error {
	named := Named(what)
	return func(text string) error {
		if notation.CleanLine(text, 0) == "" {
			return nil
		}
		return named(text)
	}
}

// Named is a check for a person's name.
func Named(what string) func(string) error {
	return func(text string) error {
		if !notation.IsName(text) {
			return &notation.Refusal{Why: what}
		}
		return nil
	}
}
