package exam

import "slices"

// Known is how much of a visit somebody knows: the entries up to one of them, but for
// some that were on another laptop then.
type Known struct {
	To      int
	Without []int
}

// Has says that the entry is known.
func (k Known) Has(seq int) bool { return seq <= k.To && !slices.Contains(k.Without, seq) }

// AnyHas says that one of several knows the entry.
func AnyHas(known []Known, seq int) bool {
	return slices.ContainsFunc(known, func(k Known) bool { return k.Has(seq) })
}

// Known is what whoever decided knows of the visit.
func (d Decided) Known() Known { return Known{d.Since().Seq, d.Without} }

// Told lists what the veterinarian was told of the visit: by hand-offs, before decisions,
// by reading it.
func (v Visit) Told() []Known {
	var out []Known
	for _, h := range v.HandOffs {
		out = append(out, Known{h.Seq, h.Without})
	}
	for _, d := range v.Decisions { // who decided after a finding knows of it
		out = append(out, d.Known())
	}
	for _, r := range v.Readings {
		if r.SignsOff() {
			out = append(out, Known{r.Seq, r.Without})
		}
	}
	return out
}

// Reasons of WithoutHandOff; after the first and the last nothing is left to tell.
const (
	KnownAlready = "the veterinarian knows it already"
	NotReached   = "the veterinarian cannot be reached"
	HandOffLater = "it is handed off later"
	ByMistake    = "entered by mistake"
)

// WithoutHandOff lists reasons for which a visit is closed although something in it
// was for the veterinarian and is not handed off. Other words are taken too.
func WithoutHandOff() []string {
	return []string{KnownAlready, NotReached, HandOffLater, ByMistake}
}
