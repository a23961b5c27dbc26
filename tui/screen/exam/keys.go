package exam

import (
	"cmp"
	"slices"

	"loosebox/tui/keys"
)

// Keys are the field's, then the screen's, in the order of the bottom line.
func (s *screen) Keys() []keys.Binding {
	if !s.Loaded || s.field == nil {
		return nil
	}
	if s.origin.Open() {
		return s.origin.Keys()
	}
	if s.panel.kind != noPanel {
		list := s.panel.keys()
		if s.horse.Patient != nil && s.panel.kind == orderPanel {
			list = list[:len(list)-1] // a rehearsal has its routine
		}
		return hinted(list)
	}
	if s.horse.asks() {
		return s.horse.Keys()
	}
	own := s.field.Keys()
	if s.field.Typing() {
		return hinted(append(own, keys.Later(), keys.Earlier()))
	}
	how, order := keys.How(), keys.Order()
	if s.horse.blind() {
		how, order = how.OffIf("a blind rehearsal does not show how"), order.With("order", "choose what to examine next")
	}
	out := append(own, s.horse.keys()...)
	out = append(out, s.usual(), s.allUsual(), keys.NotDone(), s.restUsual(), keys.Later(), keys.Write(), how,
		keys.Source(), keys.Earlier(), order)
	if len(s.visit.Left(s.routine)) == 0 { // the way on stands first
		out = append([]keys.Binding{keys.Review()}, out...)
	} else {
		out = append(out, keys.Review())
	}
	out = append(out, keys.After())
	if s.atLeg() {
		out = append(out, keys.Left().With("this leg", "go to another step at the same leg"), keys.Right())
	}
	if s.horse.Patient == nil {
		out = append(out, keys.QuickCount().With("", ""), keys.Sums().With("", ""))
	}
	return hinted(out)
}

// hints is how many of the screen's keys stand on the bottom line; with the frame's two they are six, and in a window of
// 80 columns one line. Help names all.
const (
	hints    = 4
	hintWide = 80 - len("   esc back   ? help")
)

// hinted keeps the first few keys for the bottom line, without those for moving and the numbers of lists, which are seen
// anyway.
func hinted(list []keys.Binding) []keys.Binding {
	shown, used := 0, 0
	out := make([]keys.Binding, len(list))
	for i, b := range list {
		plain := b.Label == keys.Up().Label || b.Label == keys.Left().Label || slices.Equal(b.Keys, keys.Digit().Keys)
		switch {
		case b.Off != "" || b.Does == "":
		case plain || shown == hints || used+wide(b) > hintWide:
			b = b.With("", cmp.Or(b.More, b.Does))
		default:
			shown++
			used += wide(b)
		}
		out[i] = b
	}
	return out
}

// wide is the room of a key on the bottom line, with the gap before it.
func wide(b keys.Binding) int { return len([]rune(b.Shown())) + len(b.Does) + len("    ") }

func (s *screen) usual() keys.Binding {
	if len(s.step().Usual) == 0 {
		return keys.Usual().OffIf("this step has no single usual answer")
	}
	return keys.Usual()
}

func (s *screen) allUsual() keys.Binding {
	b := keys.AllUsual()
	if len(s.ask().Sites) < 2 {
		return b.OffIf("this step has one site")
	}
	if len(s.step().Usual) == 0 {
		return b.OffIf("this step has no single usual answer")
	}
	return b
}
