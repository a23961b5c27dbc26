package signedlog

import (
	"crypto/ed25519"
	"errors"
	"fmt"
)

// Segment is consecutive records of one log up to one that its key signed: what is
// stored, exported and sent, and can be verified by itself.
type Segment struct {
	Log    ID
	Public ed25519.PublicKey
	Nonce  Nonce
	First  uint64 // number of the first record
	Prev   Digest // of the record before it
	Cores  [][]byte
	// Signature covers the log up to the last record.
	Signature []byte
	// Rehearsals says that the log is of simulated horses. The log's name proves it (Proven);
	// of a log that was begun before schema 11 only the bodies do.
	Rehearsals bool

	read *asRead // where it was read from bytes
}

// asRead is what reading a segment made of it. It holds for the very slice of cores that
// was read, in its place: whoever changes the records of a segment gives it another slice.
type asRead struct {
	log     ID
	first   uint64
	prev    Digest
	cores   [][]byte
	digests []Digest
	packed  []byte
}

// asRead is what is known of the segment from reading it; nil for nothing.
func (s Segment) asRead() *asRead {
	r := s.read
	if r == nil || s.Log != r.log || s.First != r.first || s.Prev != r.prev || len(s.Cores) != len(r.cores) || &s.Cores[0] != &r.cores[0] {
		return nil
	}
	return r
}

// Packed are the cores as Pack packs them.
func (s Segment) Packed() []byte {
	if r := s.asRead(); r != nil {
		return r.packed
	}
	return Pack(s.Cores)
}

// Proven says that the log's name says whether it holds rehearsals.
func (s Segment) Proven() bool { return s.Log == RehearsalsNameOf(s.Public, s.Nonce) }

// Limits of a segment. A reader takes no more; a writer makes shorter ones.
const (
	MaxRecords = 400
	MaxRaw     = 200 << 10 // bytes of all cores, unless one record alone is longer
	mostRaw    = 16 << 20  // that a reader believes
)

// Last is the number of the last record.
func (s Segment) Last() uint64 { return s.First + uint64(len(s.Cores)) - 1 }

// Digests are the digests of the records, in their order.
func (s Segment) Digests() []Digest {
	if r := s.asRead(); r != nil {
		return r.digests
	}
	out := make([]Digest, len(s.Cores))
	prev := s.Prev
	for i, core := range s.Cores {
		prev = s.Log.Next(s.First+uint64(i), prev, core)
		out[i] = prev
	}
	return out
}

// What a segment can be refused for.
var (
	ErrEmpty     = errors.New("there is no record in it")
	ErrLong      = errors.New("it is longer than any segment is")
	ErrKey       = errors.New("its key is not the key of its log")
	ErrMark      = errors.New("its log is of rehearsals, and it says that it is not")
	ErrSignature = errors.New("its records are not what was signed")
)

// Verify makes sure that the records are the ones that the log's key signed, and
// returns their digests.
func (s Segment) Verify() ([]Digest, error) {
	if s.raw() > mostRaw {
		return nil, ErrLong
	}
	digests := s.Digests()
	return digests, s.VerifyBy(digests)
}

// VerifyBy is Verify for a caller who has the digests of the records already.
func (s Segment) VerifyBy(digests []Digest) error {
	switch {
	case len(s.Cores) == 0 || s.First == 0 || len(digests) != len(s.Cores):
		return ErrEmpty
	case s.First == 1 && s.Prev != (Digest{}):
		return ErrSignature
	case s.raw() > mostRaw:
		return ErrLong
	case len(s.Public) != ed25519.PublicKeySize || NameOf(s.Public, s.Nonce) != s.Log && !s.Proven():
		return ErrKey
	case s.Proven() && !s.Rehearsals:
		return ErrMark
	}
	if !Signed(s.Public, s.Log, s.Last(), digests[len(digests)-1], s.Signature) {
		return fmt.Errorf("records %d to %d of log %s: %w", s.First, s.Last(), s.Log, ErrSignature)
	}
	return nil
}

func (s Segment) raw() int {
	n := 0
	for _, c := range s.Cores {
		n += len(c)
	}
	return n
}

// Full says how many of the cores make one segment: as many as its limits take, at
// least one.
func Full(cores [][]byte) int {
	raw := 0
	for i, c := range cores {
		if raw += len(c); i > 0 && (i >= MaxRecords || raw > MaxRaw) {
			return i
		}
	}
	return len(cores)
}
