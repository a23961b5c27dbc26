package rehearse

import (
	"hash/fnv"
	"math/rand/v2"

	"loosebox/exam"
)

// CaseOrigin says which horse was rehearsed: enough, with the case file, to make it again. It is kept in the opening of the
// visit, so that the marks can be made from the stored entries alone.
type CaseOrigin struct {
	Case   string `json:"case"`
	Seed   uint64 `json:"seed"`
	Digest string `json:"digest"` // first 12 hex digits of the SHA-256 of the case file
}

// String is the origin as Opening.Source holds it: "rehearsal colic-tarn seed 7 of 0123456789ab".
func (o CaseOrigin) String() string { return exam.SimulatedSource(o.Case, o.Seed, o.Digest) }

// ReadOrigin reads what Origin.String wrote; false where the text is none, as the source of an imported visit.
func ReadOrigin(source string) (CaseOrigin, bool) {
	name, seed, digest, ok := exam.ReadSimulatedSource(source)
	return CaseOrigin{Case: name, Seed: seed, Digest: digest}, ok
}

// OriginOf is the origin of a visit; false where it is no rehearsal.
func OriginOf(v exam.Visit) (CaseOrigin, bool) { return ReadOrigin(v.Source) }

// random is a stream of its own for one purpose, so that after a new step, or a question asked twice, the other random values of the seed stay the same.
func (o CaseOrigin) random(purpose string) *rand.Rand {
	h := fnv.New64a()
	_, _ = h.Write([]byte(o.Case + "\x00" + purpose))
	return rand.New(rand.NewPCG(o.Seed, h.Sum64()))
}

// between draws from low to high. The conversion keeps a fused multiply-add of some machines out of the result.
func between(r *rand.Rand, low, high float64) float64 {
	return low + float64((high-low)*r.Float64())
}
