package exam

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// ReadUELN checks a Universal Equine Life Number and returns its 15 characters;
// an empty text is none. Three digits of country, three of data base, nine of
// the animal; the last twelve may hold letters.
func ReadUELN(text string) (string, error) {
	n := strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "/", "", ".", "").Replace(notation.CleanLine(text, 40)))
	if n == "" {
		return "", nil
	}
	if len(n) != 15 {
		return "", &notation.Refusal{Typed: n, Why: fmt.Sprintf("a UELN has 15 characters, this has %d", len(n))}
	}
	for i, c := range n {
		digit := c >= '0' && c <= '9'
		letter := c >= 'A' && c <= 'Z'
		if !digit && (i < 3 || !letter) {
			return "", &notation.Refusal{Typed: n, Why: "a UELN is three digits, then twelve digits or letters"}
		}
	}
	return n, nil
}

// ReadBirth reads a birth date as people know it: "2019", "2019-05",
// "2019-05-04", "2019-05-04 03:20", "about 2008", "foal", "adult", "", or with a date
// that Calendar reads. Errors are a *notation.Refusal.
func ReadBirth(text, basis string) (Birth, error) {
	iso, err := notation.Calendar{}.ISO(text)
	if err != nil {
		return Birth{}, err
	}
	clean := strings.ToLower(notation.CleanLine(iso, 40))
	basis = notation.CleanLine(basis, 40)
	switch clean {
	case "":
		return Birth{Precision: BornUnknown, Basis: basis}, nil
	case "foal", string(BornFoal):
		return Birth{Precision: BornFoal, Basis: basis}, nil
	case "adult":
		return Birth{Precision: BornAdult, Basis: basis}, nil
	}
	date, about := strings.CutPrefix(clean, "about ")
	forms := []struct {
		layout    string
		precision BirthPrecision
	}{
		{"2006-01-02 15:04", BornMinute},
		{"2006-01-02t15:04", BornMinute},
		{"2006-01-02", BornDay},
		{"2006-01", BornMonth},
		{"2006", BornYear},
	}
	for _, f := range forms {
		at, err := parseLocal(f.layout, date)
		if err != nil {
			continue
		}
		if about {
			f.precision = BornEstimated
		}
		return Birth{At: at, Precision: f.precision, Basis: basis}, nil
	}
	return Birth{}, &notation.Refusal{Typed: clean, Why: "write a birth date as 4 May 2019, May 2019 or about 2019; foal or adult if no more is known"}
}

func parseLocal(layout, text string) (time.Time, error) {
	return time.ParseInLocation(layout, text, time.Local)
}
