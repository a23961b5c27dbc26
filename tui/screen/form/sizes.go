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

// typeSize handles a digit, a point or backspace of a size that is typed in full: 12 chooses 12 mL, and 2 chooses nothing
// where no size is 2 mL. False for other presses.
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

// sized is the index of the first choice with the typed size; false where there is none.
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

// acceptSize accepts the chosen size, or refuses with a sentence that lists the sizes.
func (r *OneOf) acceptSize() entry.KeyResult {
	if r.refused = r.Err(); r.refused != nil {
		r.typed = ""
		return entry.Taken
	}
	r.typed = ""
	return entry.Accepted
}

// Err is a sentence where the typed size is not one of the choices; nil otherwise.
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
