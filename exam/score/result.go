package score

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Basis says what a score can be and where it comes from.
type Basis struct {
	Name     string
	Range    string // "0 to 12", "none, about 5, about 8, 10 % or more"
	Source   string // for a person: citation
	Evidence ranges.Evidence
	Note     string // what else a person should know; may be empty
}

// Item is one thing that went into a score, or that is missing from it.
type Item struct {
	Name  ItemName
	Found string  // what was found, as shown; empty where it was not looked for
	Says  string  // what it counts as, or why it is left open
	Count float64 // points, or 1 where it counts
	Open  bool    // not seen, or not in the published table
	// Unseen says that it is open because nobody looked; Worth is what it may count, where that is said.
	Unseen bool
	Worth  string
}

// line is the item for a person, "gum refill 3 s: about 8 %".
func (i Item) line() string { return strings.TrimSpace(i.Name.String()+" "+i.Found) + ": " + i.Says }

// Result is what a score comes to, with everything that explains it.
type Result struct {
	Basis
	Words string // the outcome in one sentence
	Items []Item
}

// Lines writes the result for a person: outcome, items, range, source.
func (r Result) Lines() []string {
	lines := []string{r.Name + ": " + r.Words}
	for _, i := range r.Items {
		lines = append(lines, "  "+i.line())
	}
	lines = append(lines, "Range: "+r.Range+".", "Source: "+strings.TrimSuffix(r.Source, ".")+"; "+r.Evidence.String()+".")
	if r.Note != "" {
		lines = append(lines, r.Note)
	}
	return lines
}

// openWords says that a score is none yet: "4 of 7 items not answered; no score yet".
func openWords(items []Item, what string) string {
	open := 0
	for _, i := range items {
		if i.Open {
			open++
		}
	}
	return fmt.Sprintf("%d of %d items not answered; no %s yet", open, len(items), what)
}

// number reads an optional figure; false where there is none or it is no number.
func number(v *float64) (float64, bool) {
	if v == nil || math.IsNaN(*v) || math.IsInf(*v, 0) {
		return 0, false
	}
	return *v, true
}

func text(v float64, u notation.Unit) string { return notation.Quantity{Value: v, Unit: u}.Text(1) }

// tenth rounds to the step of a thermometer, half upwards and free of the noise
// of a conversion.
func tenth(v float64) float64 { return math.Floor(v*10+0.5+1e-6) / 10 }

// grownHorse says whether a score that was made on adult horses may be used.
func grownHorse(class ranges.Class) bool { return exam.Class{Name: class}.GrownHorse() }

func notMadeFor(what string, class ranges.Class) error {
	return &notation.Refusal{Why: what + " was made on grown horses; it is not used for this animal (" + class.String() + ")"}
}
