package gs1

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"loosebox/exam/notation"
)

// Code is what a scanner typed, read.
type Code struct {
	// Readings are every way to read it: one, or several where separators were lost.
	Readings []Interpretation
	// Doubts of the first reading are sentences: what to compare, what to scan too.
	Doubts []string
	// Sure says that it can be nothing else than a code of a package. Where it is
	// false the same text can be a lot number as it stands.
	Sure bool
}

// mostLong is longer than any code of a package, in characters.
const mostLong = 300

// chipDigits is the length of a microchip number, which reads as a company's own
// identifier too.
const chipDigits = 15

// Names that scanners put before a code: what is in it.
func elements() []string { return []string{"]d2", "]C1", "]Q3", "]e0", "]J1"} } // element strings
func numbered() []string { return []string{"]E0", "]E4"} }                      // an item number alone
func plain() []string    { return []string{"]d1", "]Q1", "]J0", "]C0", "]d0", "]Q0"} }

// prefix is the name that a scanner put before a code, if it is one of a list.
func prefix(text string, names []string) (rest string, ok bool) {
	for _, p := range names {
		if strings.HasPrefix(text, p) {
			return text[len(p):], true
		}
	}
	return text, false
}

// Plain is the text without the name of its kind of code, as it is typed into a field.
func Plain(text string) string {
	rest, _ := prefix(framed(text), plain())
	return rest
}

// framed leaves out what frames a line.
func framed(text string) string {
	return strings.TrimFunc(text, func(r rune) bool { return unicode.IsControl(r) || r == ' ' })
}

// Read reads what a scanner typed. Errors are a *notation.Refusal: what is wrong with
// a code, or that it is none.
func Read(text string, now time.Time) (Code, error) {
	text = framed(text)
	refuse := func(why string) (Code, error) {
		return Code{}, &notation.Refusal{Typed: notation.CleanLine(text, 60), Why: why}
	}
	if len(text) > mostLong || strings.ContainsFunc(text, func(r rune) bool { return r > unicode.MaxASCII }) {
		return refuse("that is no code of a package")
	}
	body, named := prefix(text, elements())
	number, numberNamed := prefix(text, numbered())
	switch _, isPlain := prefix(text, plain()); {
	case isPlain, text == "":
		return refuse("the code holds no data of GS1")
	case len(text) == chipDigits && allDigits(text):
		return refuse("15 digits are the number of a microchip, not a code of a package")
	case numberNamed, !named && itemLike(text):
		return item(number, numberNamed, now)
	case !named && strings.HasPrefix(body, "("):
		list, err := bracketed(body, now)
		if err != nil {
			return refuse(err.Error())
		}
		return code([][]Element{list}, true, now), nil
	}
	parts := strings.FieldsFunc(body, func(r rune) bool { return !inSet82(r) })
	list, err := whole(parts, now)
	sure := named || strings.ContainsRune(body, 0x1d) || beginsWithItem(body)
	if len(parts) != 1 {
		if err != nil || len(parts) == 0 {
			return refuse(fmt.Sprint(orNone(err)))
		}
		return code([][]Element{list}, sure, now), nil
	}
	all := cuts(parts[0], now)
	switch {
	case err == nil && !slices.ContainsFunc(all, func(l []Element) bool { return slices.Equal(l, list) }):
		all = append([][]Element{list}, all...)
	case len(all) == 0:
		return refuse(fmt.Sprint(orNone(err)))
	}
	if len(all) > mostCuts {
		return refuse("the code can be read in more ways than can be shown: type lot and expiry from the label")
	}
	return code(all, sure, now), nil
}

func orNone(err error) error {
	if err == nil {
		return fmt.Errorf("that is no code of a package")
	}
	return err
}

// Is says that a text can be nothing but a code of a package, right or wrong.
func Is(text string) bool {
	text = framed(text)
	_, named := prefix(text, append(elements(), numbered()...))
	return named || strings.ContainsRune(text, 0x1d) || strings.HasPrefix(text, "(01)") || beginsWithItem(text)
}

// beginsWithItem says that a text begins as an item number with its identifier does.
func beginsWithItem(text string) bool {
	text = strings.TrimLeft(text, "\x1d")
	return len(text) >= 16 && (text[:2] == itemAI || text[:2] == insideAI) && allDigits(text[:16]) && sums(text[2:16])
}

func itemLike(text string) bool {
	return allDigits(text) && slices.Contains([]int{8, 12, 13, 14}, len(text))
}

// item reads an item number that stands alone, of 8, 12, 13 or 14 digits.
func item(text string, named bool, now time.Time) (Code, error) {
	switch {
	case !itemLike(text):
		return Code{}, &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: "an item number has 8, 12, 13 or 14 digits"}
	case !sums(text):
		return Code{}, &notation.Refusal{Typed: text, Why: "the check digit of the item number is wrong: the code was misread, or is damaged. Scan it again"}
	}
	padded, _ := ItemNumber(text)
	return code([][]Element{{{itemAI, padded}}}, named, now), nil
}

// ItemNumber is an item number of 8, 12, 13 or 14 digits with 14; false for any other text, or where its check digit is wrong.
func ItemNumber(text string) (string, bool) {
	if !itemLike(text) || !sums(text) {
		return "", false
	}
	return strings.Repeat("0", 14-len(text)) + text, true
}

func code(all [][]Element, sure bool, now time.Time) Code {
	c := Code{Sure: sure}
	for _, list := range all {
		c.Readings = append(c.Readings, readingOf(list, now))
	}
	c.Doubts = c.Readings[0].doubts(now)
	return c
}
