package exam

import (
	"fmt"
	"strings"
)

// HorseDispute is something of a horse that two laptops wrote down without knowing of
// each other: somebody must choose. Until then the last of its values stands.
type HorseDispute struct {
	Field string       `json:"field"` // its name in JSON
	Said  []HorseValue `json:"said"`  // in the order of the record, at least two
}

// Name is the field for a person.
func (d HorseDispute) Name() string {
	switch d.Field {
	case "colour":
		return "color"
	case "place":
		return "location"
	case "birth":
		return "birth date"
	}
	return strings.ReplaceAll(d.Field, "_", " ")
}

// HorseValue is one of the values of a HorseDispute. Seq is the number of the revision.
type HorseValue struct {
	Text string `json:"text"` // for a person; empty where it was cleared
	Signed
}

func sameOfHorse(a, b any) bool {
	x, ok := a.(Birth)
	if !ok {
		return a == b
	}
	y, _ := b.(Birth)
	return x.At.Equal(y.At) && x.Precision == y.Precision && x.Basis == y.Basis
}

// horseText is a value of a horse for a person.
func horseText(value any) string {
	switch v := value.(type) {
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case Birth:
		return v.Show()
	}
	return fmt.Sprint(value)
}
