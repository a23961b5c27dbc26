package main

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// findHorse is the one horse that a text means: its identity, the beginning of
// it (six characters or more), its chip number, or its name.
func findHorse(store exam.Store, text string) (exam.Horse, error) {
	all, err := store.Horses()
	if err != nil {
		return exam.Horse{}, err
	}
	want := strings.ToLower(notation.CleanLine(text, 0))
	var named []exam.Horse
	for _, f := range all {
		h := f.Horse
		if h.Is(exam.HorseID(want)) || h.HasChip(strings.ToUpper(want)) {
			return h, nil
		}
		if h.Called(want) || (len(want) >= 6 && slices.ContainsFunc(h.Records(), func(r exam.Horse) bool { return strings.HasPrefix(string(r.ID), want) })) {
			named = append(named, h)
		}
	}
	switch len(named) {
	case 1:
		return named[0], nil
	case 0:
		return exam.Horse{}, exam.NoSuch("no horse is called %q%s; loosebox horses lists them", notation.CleanLine(text, 40), meantHorse(text, all))
	default:
		return exam.Horse{}, &usageError{fmt.Sprintf("%d horses are called %q; name the one you mean by its number from loosebox horses", len(named), notation.CleanLine(text, 40))}
	}
}

// meantHorse is a question whether another horse was meant; empty where none is near.
func meantHorse(text string, all []exam.Found) string {
	names := make([]string, len(all))
	for i, f := range all {
		names[i] = f.Horse.Name
	}
	return strings.TrimSuffix(strings.Replace(didYouMean(text, names), ";", ":", 1), "?")
}
