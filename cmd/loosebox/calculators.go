package main

import (
	"errors"
	"math"
	"os"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// animalFlags are the flags that say which animal a calculator is about.
type animalFlags struct{ kind, age, breed, sex string }

// horse is the animal as it is on a day; nothing of it is stored.
func (a animalFlags) horse(at time.Time) (exam.Horse, error) {
	h := exam.Horse{Breed: notation.CleanLine(a.breed, 60)}
	var err error
	if h.Kind, err = intake.ReadKind(a.kind); err != nil {
		return h, usage("--kind: %v", err)
	}
	if a.age != "" {
		if h.Birth, err = intake.ReadAge(a.age, at); err != nil {
			return h, usage("--age: %v", err)
		}
	}
	if a.sex != "" {
		if h.Sex, err = intake.ReadSex(a.sex); err != nil {
			return h, usage("--sex: %v", err)
		}
	}
	return h, nil
}

// wrongUse turns a refusal into wrong use of the command line, with the flag it is about.
func wrongUse(flag string, err error) error {
	var r *notation.Refusal
	if !errors.As(err, &r) {
		return err
	}
	if flag == "" {
		return usage("%v", err)
	}
	return usage("--%s: %v", flag, err)
}

// spanOf reads a span of time before now, "60d" or "8mo".
func spanOf(flag, text string, now time.Time) (time.Duration, error) {
	b, err := intake.ReadAge(text, now)
	if err != nil || b.Precision != exam.BornMinute {
		return 0, usage("--%s: %q is no span of time; write it like 60d, 3w or 8mo", flag, notation.CleanLine(text, 20))
	}
	return now.Sub(b.At), nil
}

// practiceSyringes is a practice's own table of syringes in the data folder.
const practiceSyringes = "syringes.csv"

// syringes is the practice's own table of syringes, or the built-in one. A table
// with a mistake is refused in words and the built-in one stands.
func (e *env) syringes() []volume.Syringe {
	f, err := e.openOwn(practiceSyringes)
	if err != nil {
		if !errors.Is(err, os.ErrNotExist) {
			e.problem("the practice's syringes cannot be read (%v); the built-in table is used", err)
		}
		return volume.Syringes()
	}
	defer f.Close() //nolint:errcheck // read only
	table, err := volume.ReadSyringes(f, practiceSyringes)
	if err != nil {
		e.problem("the practice's syringes are refused; the built-in table is used: %v", err)
		return volume.Syringes()
	}
	return table
}

// rounded is a number of a result with two decimals, as JSON shows it.
func rounded(v float64) float64 { return math.Round(v*100) / 100 }

// lines writes lines to the results, broken between words at 80 columns.
func (e *env) lines(lines ...string) error {
	for _, line := range lines {
		if err := e.printf("%s\n", broken(line, 80)); err != nil {
			return err
		}
	}
	return nil
}

// broken breaks a line between words; what follows a break is set in.
func broken(line string, wide int) string {
	if ansi.StringWidth(line) <= wide {
		return line
	}
	var b strings.Builder
	b.WriteString(line[:len(line)-len(strings.TrimLeft(line, " "))])
	at := b.Len()
	for i, word := range strings.Fields(line) {
		switch w := ansi.StringWidth(word); {
		case i == 0:
			at += w
		case at+1+w > wide:
			b.WriteString("\n    ")
			at = 4 + w
		default:
			b.WriteByte(' ')
			at += 1 + w
		}
		b.WriteString(word)
	}
	return b.String()
}

// decides ends the text of a calculator.
const decides = "The veterinarian's order, the product's label and local rules decide."
