package exam

import (
	"slices"

	"loosebox/exam/notation"
)

// Known is which entries of a visit somebody knows: those with numbers up to To, without those in
// Without, which were on another laptop then.
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

// NoHandOff says why a visit was closed although something in it was for the veterinarian
// and was not handed off: one of the keys below, or words of a person's own.
type NoHandOff string

// The reasons that are offered.
const (
	KnownAlready NoHandOff = "the veterinarian knows it already"
	NotReached   NoHandOff = "the veterinarian cannot be reached"
	HandOffLater NoHandOff = "it is handed off later"
	ByMistake    NoHandOff = "entered by mistake"
)

// NoHandOffs lists the reasons that are offered, in the order in which they are shown.
func NoHandOffs() []NoHandOff {
	return []NoHandOff{KnownAlready, NotReached, HandOffLater, ByMistake}
}

// ReadNoHandOff reads a typed reason: the words of a key, in small or large letters, are that
// key; any other text is a person's own words, as one clean line.
func ReadNoHandOff(text string) NoHandOff {
	return noHandOffWords.Read(notation.CleanLine(text, 0))
}

// NothingToTell says that the veterinarian need not be told any more.
func (n NoHandOff) NothingToTell() bool { return n == KnownAlready || n == ByMistake }
