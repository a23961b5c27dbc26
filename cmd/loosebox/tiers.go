package main

import (
	"fmt"

	"loosebox/ranges"
)

// tiersJSON is how many bounds of a class stand on which kind of source.
type tiersJSON struct {
	Class string         `json:"class"`
	Usual map[string]int `json:"usual"`
	Limit map[string]int `json:"limits"`
}

// summarizeRanges counts the usual bounds and the limits by tier, class by class, and all of them last.
func (e *env) summarizeRanges(class string, asJSON bool) error {
	words := append(ranges.Tiers(), ranges.PracticeOwn)
	list := []tiersJSON{}
	rows := [][]string{{"class", "of"}}
	for _, w := range words {
		rows[0] = append(rows[0], w.String())
	}
	add := func(key, name string, c ranges.Class) {
		usual, limit := e.ranges.Tiers(c)
		list = append(list, tiersJSON{key, counts(usual), counts(limit)})
		for i, shares := range []ranges.Shares{usual, limit} {
			row := []string{name, [2]string{"usual", "limits"}[i]}
			for _, w := range words {
				row = append(row, partOf(shares[w], shares.Sum()))
			}
			rows = append(rows, row)
		}
	}
	for _, c := range ranges.Classes() {
		if class == "" || string(c) == class {
			add(string(c), c.String(), c)
		}
	}
	if class == "" {
		add("all", "all", "")
	}
	if asJSON {
		return e.printJSON(struct {
			Schema  string      `json:"schema"`
			Classes []tiersJSON `json:"classes"`
		}{"loosebox/ranges/1", list})
	}
	return columns(e.out, rows)
}

func counts(s ranges.Shares) map[string]int {
	out := map[string]int{}
	for w, n := range s {
		out[string(w)] = n
	}
	return out
}

// partOf writes a count with its part of the whole: "6 (75 %)".
func partOf(n, of int) string {
	if n == 0 || of == 0 {
		return "-"
	}
	return fmt.Sprintf("%d (%d %%)", n, (100*n+of/2)/of)
}
