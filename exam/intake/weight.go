package intake

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// grownWeights are the body weights, kg, between which a grown animal of a kind lies. They only decide what is asked
// about; the figures are from memory and wide on purpose.
func grownWeights(kind exam.AnimalKind) exam.Span {
	switch kind {
	case exam.AnimalMiniature:
		return exam.Span{Low: 35, High: 250}
	case exam.AnimalPony:
		return exam.Span{Low: 70, High: 600}
	case exam.AnimalDonkey:
		return exam.Span{Low: 60, High: 550}
	case exam.AnimalDraft:
		return exam.Span{Low: 350, High: 1300}
	case exam.AnimalMule:
		return exam.Span{Low: 100, High: 900}
	case exam.AnimalHorse:
	}
	return exam.Span{Low: 180, High: 1100}
}

// weights asks about a weight that no grown animal of its kind has, or does what the map says of it.
func (a *applied) weights(r sheetRow, v *Visit) {
	for n, e := range v.Entries {
		if e.Kind != exam.EntryFinding || e.Value.Kind != exam.KindWeight || e.Value.Number == nil {
			continue
		}
		kg, ok := e.Value.Number.In(notation.Kilograms)
		span := grownWeights(v.Horse.Kind)
		if !ok || span.Contains(kg.Value) || young(v.Horse, e.At) {
			continue
		}
		i, c := a.columnOf(exam.Key{Step: e.Step, Site: e.Site})
		switch c.heavy {
		case takeIt:
		case leaveOut:
			v.Entries[n] = exam.Entry{Kind: exam.EntryNotDone, Step: e.Step, Site: e.Site, Reason: "not possible as written", Note: "written: " + e.Value.Typed, At: e.At, By: e.By}
			v.Notices = slices.DeleteFunc(v.Notices, func(n string) bool { return strings.Contains(n, fmt.Sprintf(":%d: %s: ", r.lineOf(i), c.name)) })
		default:
			a.e.AddAt(r.lineOf(i), c.name, "%s is no weight of a grown %s (%g to %g kg). Correct it, or the map says of this column weights: take, or weights: leave out",
				e.Value.Number, v.Horse.Kind, span.Low, span.High)
		}
	}
}

func (a *applied) columnOf(k exam.Key) (int, column) {
	for i, c := range a.held {
		for _, p := range c.places {
			if p.key() == k {
				return i, c
			}
		}
	}
	return 0, column{}
}

// young says that an animal is known not to be grown.
func young(h exam.Horse, at time.Time) bool {
	if h.Birth.Precision == exam.BornFoal {
		return true
	}
	return !h.Birth.At.IsZero() && h.Birth.At.After(at.AddDate(-2, 0, 0))
}

// bornBy reads an age on the day of an exam: 9, 9y, 8mo. A bare number is years.
func bornBy(text string, at time.Time) (exam.Birth, error) {
	text = strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(text), "~"), "ca ")
	if strings.Trim(text, "0123456789.,") == "" {
		text += "y"
	}
	born, err := readAge(strings.TrimSuffix(text, " old"), at)
	if err != nil || born.At.IsZero() {
		return born, err
	}
	precision := exam.BornDay
	if strings.ContainsAny(text, "y") || strings.Contains(text, "mo") {
		born.At, precision = time.Date(born.At.Year(), 1, 1, 0, 0, 0, 0, at.Location()), exam.BornEstimated
		if strings.Contains(text, "mo") {
			born.At, precision = time.Date(at.Year(), at.Month(), 1, 0, 0, 0, 0, at.Location()).AddDate(0, -months(at, text), 0), exam.BornMonth
		}
	}
	return exam.Birth{At: born.At, Precision: precision, Basis: "age in the sheet"}, nil
}

func months(at time.Time, text string) int {
	n := 0
	_, _ = fmt.Sscanf(text, "%d", &n)
	return n
}

// born reads a birth date in any form of a date, or a year, as exam.ReadBirth has it.
func (a *applied) born(text string) (exam.Birth, error) {
	b, err := exam.ReadBirth(text, "")
	if err == nil {
		return b, nil
	}
	d, bad := readDay(text, a.form)
	if bad != nil {
		return b, err
	}
	at := time.Date(d.y, time.Month(d.m), d.d, 0, 0, 0, 0, time.UTC)
	if at.Day() != d.d || d.m > 12 {
		return b, err
	}
	return exam.ReadBirth(at.Format(notation.DayForm), "")
}
