package exam

import (
	"fmt"
	"slices"
	"strings"
)

// ReadCover reads what a decision covers from one line: draw, or
// injection:PRODUCT, with the route and the dose behind it where they were said,
// injection:PRODUCT:IM:2 mL. A colon within a name is written \:. Errors are a
// *Refusal.
func ReadCover(text string) (Cover, error) {
	parts := colons(CleanNote(text))
	kind := strings.ToLower(strings.TrimSpace(parts[0]))
	switch {
	case kind == "draw" || kind == string(Drawing):
		if len(parts) > 1 {
			return Cover{}, &Refusal{Typed: text, Why: "a blood draw has neither product nor route: write draw"}
		}
		return Cover{Kind: Drawing}, nil
	case kind != string(Injecting) || len(parts) > 4:
		return Cover{}, &Refusal{Typed: text, Why: `a decision covers draw, or injection:PRODUCT, injection:PRODUCT:IM, injection:PRODUCT:IM:DOSE; a colon in a name is \:`}
	}
	parts = append(parts, "", "", "")
	route, err := ReadRoute(parts[2])
	if err != nil {
		return Cover{}, err
	}
	return Cover{Kind: Injecting, Product: CleanLine(parts[1], 0), Route: route, Dose: CleanLine(parts[3], 0)}, nil
}

// ReadRoute reads a route; an empty text is any. The error is a *Refusal.
func ReadRoute(text string) (Route, error) {
	want := strings.ToLower(CleanLine(text, 0))
	if want == "" {
		return "", nil
	}
	i := slices.IndexFunc(Routes(), func(r Route) bool { return strings.ToLower(string(r)) == want })
	if i < 0 {
		return "", &Refusal{Typed: text, Why: fmt.Sprintf("%q is no route: it is one of IM, IV, SC, by mouth, in the nose", CleanLine(text, 30))}
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
