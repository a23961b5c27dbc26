package due

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Papers is an earlier dose as it stands in a passport or another paper, or as
// somebody said it.
type Papers struct {
	Product    string
	Lot        string
	Maker      string
	Expiry     string   // as on the label; empty where the papers do not say
	Item       string   // item number (GTIN) of the package, where its code was scanned
	Serial     string   // of the package, likewise
	Against    []string // diseases, by key or name; none for any other product
	On         string   // 2026, 2026-03 or 2026-03-04
	Basis      string   // passport, owner …
	SeriesDone bool     // the papers show the whole first series
}

// Noted is the line of the record of an earlier dose; its number in the visit is
// left to the caller. Errors are *notation.Refusal.
func (t *Table) Noted(p Papers, now time.Time) (exam.InjectionLine, error) {
	product := notation.CleanLine(p.Product, 0)
	var against []string
	for _, text := range p.Against {
		key, err := t.ReadDisease(text)
		if err != nil {
			return exam.InjectionLine{}, err
		}
		if !slices.Contains(against, key) {
			against = append(against, key)
		}
	}
	var expiry notation.Expiry
	if notation.CleanLine(p.Expiry, 0) != "" {
		var err error
		if expiry, err = notation.ReadExpiry(p.Expiry); err != nil {
			return exam.InjectionLine{}, err
		}
	}
	on, err := notation.ReadDay(p.On, now)
	switch {
	case product == "" && len(against) == 0:
		return exam.InjectionLine{}, &notation.Refusal{Why: "type the product, or what it is against"}
	case err != nil:
		return exam.InjectionLine{}, err
	case notation.CleanLine(p.Basis, 0) == "":
		return exam.InjectionLine{}, &notation.Refusal{Why: "choose where it comes from: passport, papers, owner"}
	case p.SeriesDone && len(against) == 0:
		return exam.InjectionLine{}, &notation.Refusal{Why: "a primary series is for a disease: choose what the dose is against"}
	}
	return exam.InjectionLine{
		Phase: exam.InjectionNoted, On: on, Basis: notation.CleanLine(p.Basis, 0), SeriesDone: p.SeriesDone,
		Order: &exam.Order{
			Product: cmp.Or(product, "product not known"), Maker: notation.CleanLine(p.Maker, 0), Lot: notation.CleanLine(p.Lot, 0), Expiry: expiry,
			Item: p.Item, Serial: notation.CleanLine(p.Serial, 0), Against: against,
		},
	}, nil
}

// ReadDisease reads a disease of the schedule: its key, its name, or the
// beginning of one of them where only one fits. The error is a *notation.Refusal.
func (t *Table) ReadDisease(text string) (string, error) {
	want := folded(text)
	var fits []string
	for _, key := range t.Diseases() {
		names := []string{folded(key), folded(t.Name(key))}
		if slices.Contains(names, want) {
			return key, nil
		}
		if want != "" && slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, want) }) {
			fits = append(fits, key)
		}
	}
	if len(fits) == 1 {
		return fits[0], nil
	}
	return "", &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is no disease of the schedule; there are: %s",
		notation.CleanLine(text, 40), strings.Join(t.Diseases(), ", "))}
}

// folded makes two spellings of a disease equal: case, and what parts its words.
func folded(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(notation.CleanLine(text, 0)), func(r rune) bool {
		return strings.ContainsRune(" _-/,", r)
	}), " ")
}

// NotGiven is the line that puts right a dose that was noted by mistake: it stays
// in the record and counts for nothing.
func NotGiven(noted exam.Injection) exam.InjectionLine {
	return exam.InjectionLine{
		Number: noted.Number, Phase: exam.InjectionStopped, On: noted.On, Basis: noted.Basis, Why: "entered by mistake, never given",
	}
}
