package intake

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

func readKind(text string) (exam.AnimalKind, error) {
	for _, a := range exam.Animals() {
		if strings.EqualFold(string(a), text) {
			return a, nil
		}
	}
	return "", fmt.Errorf("%s is no kind of animal; it is one of %s", ownfile.Quote(text), joined(exam.Animals()))
}

func readSex(text string) (exam.Sex, error) {
	for _, s := range exam.Sexes() {
		if strings.EqualFold(string(s), text) {
			return s, nil
		}
	}
	return "", fmt.Errorf("%s is no sex that is known here; it is one of %s", ownfile.Quote(text), joined(exam.Sexes()))
}

func joined[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = string(w)
	}
	return strings.Join(words, ", ")
}

// notAtRest is the context of an exam of which only that much is known.
const notAtRest exam.State = "not at rest"

// readAtRest reads yes, no, or the states themselves, separated by commas.
func readAtRest(text string) (exam.Context, error) {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "1", "rest":
		return exam.Context{States: []exam.State{exam.StateRest}}, nil
	case "no", "n", "false", "0":
		return exam.Context{States: []exam.State{notAtRest}}, nil
	}
	var c exam.Context
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		state := exam.State(strings.ToLower(strings.TrimSpace(part)))
		known := false
		for _, s := range exam.States() {
			known = known || s == state
		}
		if !known {
			return exam.Context{}, fmt.Errorf("%s is neither yes nor no nor one of %s", ownfile.Quote(part), joined(exam.States()))
		}
		c.States = append(c.States, state)
	}
	return c, nil
}

// Days and months of an age that is not whole, on average of the Gregorian year.
const (
	daysPerMonth  = 365.2425 / 12
	monthsPerYear = 12
	maxYears      = 70
)

var agePattern = regexp.MustCompile(`^(?i)([0-9]+(?:[.,][0-9]+)?)\s*([a-z]*)$`)

// readAge reads an age as it was on a day: 9y, 8mo, 3w, 5d, 10h, 20min, or adult
// or foal (under six months) where no more is known.
func readAge(text string, at time.Time) (exam.Birth, error) {
	switch strings.ToLower(text) {
	case "adult":
		return exam.Birth{Precision: exam.BornAdult}, nil
	case "foal", string(exam.BornFoal), "under 6 months":
		return exam.Birth{Precision: exam.BornFoal}, nil
	}
	m := agePattern.FindStringSubmatch(text)
	if m == nil {
		return exam.Birth{}, fmt.Errorf("%s is no age; write 9y, 8mo, 3w, 5d, 10h or 20min. Or write adult or foal", ownfile.Quote(text))
	}
	n, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	if err != nil || n > 1e6 {
		return exam.Birth{}, fmt.Errorf("%s is no age", ownfile.Quote(text))
	}
	born, ok := before(at, n, strings.ToLower(m[2]))
	if !ok {
		return exam.Birth{}, fmt.Errorf("%s has no unit of age; write %sy, %smo, %sw, %sd, %sh or %smin", ownfile.Quote(text), m[1], m[1], m[1], m[1], m[1], m[1])
	}
	if born.Before(at.AddDate(-maxYears, 0, 0)) {
		return exam.Birth{}, fmt.Errorf("no horse is known to have reached %s", ownfile.Quote(text))
	}
	return exam.Birth{At: born, Precision: exam.BornMinute}, nil
}

// before is the moment that lies so many units before another.
func before(at time.Time, n float64, unit string) (time.Time, bool) {
	hours := func(h float64) time.Time { return at.Add(-time.Duration(math.Min(h, 1e6) * float64(time.Hour))) }
	whole := n == math.Trunc(n)
	switch unit {
	case "y", "yr", "yrs", "year", "years":
		if whole {
			return at.AddDate(-int(n), 0, 0), true
		}
		return before(at, n*monthsPerYear, "mo")
	case "mo", "month", "months":
		if whole {
			return at.AddDate(0, -int(n), 0), true
		}
		return hours(n * daysPerMonth * 24), true
	case "w", "wk", "week", "weeks":
		return hours(n * 7 * 24), true
	case "d", "day", "days":
		return hours(n * 24), true
	case "h", "hr", "hour", "hours":
		return hours(n), true
	case "min", "minute", "minutes":
		return hours(n / 60), true
	}
	return time.Time{}, false
}
