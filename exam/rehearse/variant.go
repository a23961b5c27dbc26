package rehearse

import (
	"maps"
	"slices"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// Variant is one truth of a case that has several: its answers stand beside those of the case, or in their place.
type Variant struct {
	Given    map[exam.Key]CaseAnswer
	Excused  map[exam.Key]exam.Reason
	MurmurIn MurmurTime // empty for that of the case
	Find     []exam.Key
	Tell     []exam.Key
}

// drawn is the case with one of its variants, by seed; the case itself where it has none. What was drawn has no variants any
// more, so that a horse's own case gives the same horse again.
func (c Case) drawn(o CaseOrigin) Case {
	if len(c.Variants) == 0 {
		return c
	}
	v := c.Variants[o.random("variant").IntN(len(c.Variants))]
	c.Given, c.Excused = maps.Clone(c.Given), maps.Clone(c.Excused)
	maps.Copy(c.Given, v.Given)
	maps.Copy(c.Excused, v.Excused)
	c.Find, c.Tell, c.Variants = union(c.Find, v.Find), union(c.Tell, v.Tell), nil
	if v.MurmurIn != "" {
		c.MurmurIn = v.MurmurIn
	}
	return c
}

// union is both lists in order, each place once.
func union(a, b []exam.Key) []exam.Key {
	var out []exam.Key
	for _, k := range slices.Concat(a, b) {
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// readVariants reads the list of truths, each with truth: and, if wanted, find:, tell:, excused: and murmur:.
func (f *form) readVariants() {
	if f.variants == nil {
		return
	}
	seq, ok := f.variants.Value.(*ast.SequenceNode)
	if !ok || len(seq.Values) == 0 {
		f.Add(ownfile.LineOf(f.variants.Key), "variants: takes a list of truth:, find: and tell:")
		return
	}
	base := f.c
	for _, n := range seq.Values {
		m, ok := n.(*ast.MappingNode)
		if !ok {
			f.Add(ownfile.LineOf(n), "a variant has truth:, and find: and tell: where something must be found")
			continue
		}
		f.variant(base, m)
	}
	variants := f.c.Variants
	f.c = base
	f.c.Variants = variants
}

func (f *form) variant(base Case, m *ast.MappingNode) {
	variants := f.c.Variants
	f.c = base
	f.c.Given, f.c.Excused, f.c.MurmurIn = map[exam.Key]CaseAnswer{}, map[exam.Key]exam.Reason{}, ""
	var find, tell *ast.MappingValueNode
	for _, pair := range m.Values {
		switch key, _ := ownfile.TextOf(pair.Key); key {
		case "truth":
			f.truth(pair)
		case "excused":
			f.excused(pair)
		case "murmur":
			f.c.MurmurIn = oneOf(f, pair, MurmurTimes())
		case "find":
			find = pair
		case "tell":
			tell = pair
		default:
			f.Add(ownfile.LineOf(pair.Key), "%s is no key of a variant", ownfile.Quote(key))
		}
	}
	v := Variant{Given: f.c.Given, Excused: f.c.Excused, MurmurIn: f.c.MurmurIn}
	f.c.Given = maps.Clone(base.Given)
	maps.Copy(f.c.Given, v.Given)
	v.Find, v.Tell = f.listed(find), f.listed(tell)
	f.c.Variants = append(variants, v)
}
