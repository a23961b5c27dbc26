package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
)

// typeSize takes a digit, a point or backspace of a size that is typed whole: 12
// picks 12 mL, and 2 picks nothing where no size is 2 mL; true where it was one.
func (r *OneOf) typeSize(p keys.Press) bool {
	name := keys.Name(p)
	if r.typed == "" {
		r.stood = r.Chosen()
	}
	switch {
	case keys.Digit().Is(p), (name == "." || name == ",") && r.typed != "":
		r.typed += strings.ReplaceAll(name, ",", ".")
	case name == "backspace" && r.typed != "":
		r.typed = r.typed[:len(r.typed)-1]
	default:
		return false
	}
	if at, ok := r.sized(); ok {
		r.field.Choose(r.choices[at].Key)
	} else {
		r.field.Choose(r.stood)
	}
	return true
}

// sized is the first choice of the size that was typed.
func (r *OneOf) sized() (int, bool) {
	want, err := strconv.ParseFloat(r.typed, 64)
	if err != nil {
		return 0, false
	}
	at := slices.IndexFunc(r.choices, func(c exam.Choice) bool {
		size, _, _ := strings.Cut(c.Words, " ")
		is, err := strconv.ParseFloat(size, 64)
		return err == nil && is == want
	})
	return at, at >= 0
}

// acceptSize takes the size that stands, or says which sizes there are.
func (r *OneOf) acceptSize() entry.KeyResult {
	if r.refused = r.Err(); r.refused != nil {
		r.typed = ""
		return entry.Taken
	}
	r.typed = ""
	return entry.Accepted
}

// Err says that what was typed is no size of the list; of other choices one is
// always chosen, or none is wanted.
func (r *OneOf) Err() error {
	if r.typed == "" {
		return nil
	}
	if _, ok := r.sized(); ok {
		return nil
	}
	sizes := make([]string, len(r.choices))
	for i, c := range r.choices {
		sizes[i] = c.Words
	}
	return &notation.Refusal{Typed: r.typed, Why: fmt.Sprintf("there is no size of %s: %s", r.typed, strings.Join(sizes, ", "))}
}
