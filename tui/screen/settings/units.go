package settings

import (
	"fmt"
	"maps"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// units are two units for one thing; a number without a unit is taken in the first
// one chosen, and the other may be typed with its sign.
func units(own, other, example string) []exam.Choice {
	hint := func(u, o string) string {
		return fmt.Sprintf("shown first; a number without a unit is %s if possible, else %s (%s). A typed unit always counts", u, o, example)
	}
	return []exam.Choice{{Key: own, Words: own, Hint: hint(own, other)}, {Key: other, Words: other, Hint: hint(other, own)}}
}

// lengths are the choices of the unit of lengths; hands are for heights only, with inches for the rest.
func lengths() []exam.Choice {
	const always = ". A typed unit always counts"
	return []exam.Choice{
		{Key: string(notation.Centimetre), Words: "cm", Hint: "a length without a unit is cm; a height like 15.2 is checked for hands" + always},
		{Key: string(notation.Inch), Words: "in", Hint: "a length without a unit is in; a height like 15.2 is checked for hands" + always},
		{Key: string(notation.Hands), Words: "in, height in hands", Hint: "a length without a unit is in; heights are hands: 15.2 is 15 hands 2 inches" + always},
	}
}

func (s *screen) length() string {
	if s.now.Units[notation.Inch] == notation.Hands {
		return string(notation.Hands)
	}
	return s.unit(notation.Centimetre)
}

// putLength keeps hands in the place of the inch of a height.
func putLength(n *exam.Settings, key string) {
	hands := notation.Unit(key) == notation.Hands
	if hands {
		key = string(notation.Inch)
	}
	putUnit(notation.Centimetre)(n, key)
	if delete(n.Units, notation.Inch); hands {
		n.Units[notation.Inch] = notation.Hands
	}
}

func (s *screen) unit(own notation.Unit) string {
	if u, ok := s.now.Units[own]; ok {
		return string(u)
	}
	return string(own)
}

// putUnit writes into a copy: the map of what is stored is shared.
func putUnit(own notation.Unit) func(*exam.Settings, string) {
	return func(n *exam.Settings, key string) {
		n.Units = maps.Clone(n.Units)
		if n.Units == nil {
			n.Units = map[notation.Unit]notation.Unit{}
		}
		if n.Units[own] = notation.Unit(key); key == string(own) {
			delete(n.Units, own)
		}
	}
}
