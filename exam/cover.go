package exam

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/ranges/words"
)

// coverForms are the ways in which a cover is written on one line.
const coverForms = `a decision covers draw, draw:WHAT FOR, or injection:PRODUCT:ROUTE:DOSE. HOW OFTEN can follow (3 times, 12 h apart; 2 sites). A colon in a name is \:`

// ReadCover reads what a decision covers from one line: draw, with what it is for
// behind it, or injection:PRODUCT, with the route, the dose and how often behind
// it where they were said, injection:PRODUCT:IM:2 mL:3 times, 12 h apart. A colon
// within a name is written \:. The dose is written as it is stored. Errors are a
// *notation.Refusal.
func ReadCover(text string) (CoveredProcedure, error) {
	parts := colons(notation.CleanNote(text))
	kind := strings.ToLower(strings.TrimSpace(parts[0]))
	switch {
	case (kind == "draw" || kind == string(Drawing)) && len(parts) <= 2:
		return CoveredProcedure{Kind: Drawing, For: notation.CleanLine(append(parts, "")[1], 0)}, nil
	case kind != string(Injecting) || len(parts) > 5:
		return CoveredProcedure{}, &notation.Refusal{Typed: text, Why: coverForms}
	}
	parts = append(parts, "", "", "", "")
	route, err := ReadRoute(parts[2])
	if err != nil {
		return CoveredProcedure{}, err
	}
	c := CoveredProcedure{Kind: Injecting, Product: notation.CleanLine(parts[1], 0), Route: route}
	if c.Dose = notation.CleanLine(parts[3], 0); c.Dose != "" {
		d, err := notation.ReadDose(c.Dose)
		if err != nil {
			return CoveredProcedure{}, err
		}
		c.Dose = d.Text()
	}
	return c.ReadOften(parts[4])
}

// ReadRoute reads a route; an empty text is any. The error is a *notation.Refusal.
func ReadRoute(text string) (Route, error) {
	want := notation.CleanLine(text, 0)
	if want == "" {
		return "", nil
	}
	i := slices.IndexFunc(Routes(), func(r Route) bool { return strings.EqualFold(string(r), want) || strings.EqualFold(r.String(), want) })
	if i < 0 {
		return "", &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is no route: it is one of %s", notation.CleanLine(text, 30), words.Join(Routes()))}
	}
	return Routes()[i], nil
}

// colons splits at colons that no backslash stands before.
func colons(text string) []string {
	parts, escaped := []string{""}, false
	for _, r := range text {
		last := &parts[len(parts)-1]
		switch {
		case escaped:
			if r != ':' {
				*last += `\`
			}
			*last += string(r)
			escaped = false
		case r == '\\':
			escaped = true
		case r == ':':
			parts = append(parts, "")
		default:
			*last += string(r)
		}
	}
	if escaped {
		parts[len(parts)-1] += `\`
	}
	return parts
}
