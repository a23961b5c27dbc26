// Package signedlog is the form of a log: a chain of records that one key signs. It
// holds names, digests, signatures and packing; it knows no file, no clock and no
// chance, and nothing of what a record says.
//
// A log belongs to one Ed25519 key (RFC 8032), and a key may begin any number of
// them. A record is a logical clock, what its writer had seen of other logs since the
// record before, and a body. Its number, its log and the digest before it follow from
// its place and are hashed, not stored.
package signedlog

import (
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
)

// ID is the name of a log.
type ID [16]byte

// String is the identity in hex.
func (id ID) String() string { return hex.EncodeToString(id[:]) }

// Nonce is what tells the logs of one key apart.
type Nonce [8]byte

// Digest is the SHA-256 by which a record is known.
type Digest [sha256.Size]byte

// String is the digest in hex.
func (d Digest) String() string { return hex.EncodeToString(d[:]) }

// ParseDigest reads a digest back from its text.
func ParseDigest(text string) (Digest, error) {
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != len(Digest{}) {
		return Digest{}, fmt.Errorf("%.70q is no SHA-256 digest", text)
	}
	return Digest(b), nil
}

// What stands before the bytes that are hashed or signed, so that no digest or
// signature of one kind can be taken for another.
const (
	domainName       = "loosebox/log/1\x00"
	domainRehearsals = "loosebox/rehearsal log/1\x00"
	domainRecord     = "loosebox/record/1\x00"
	domainSigned     = "loosebox/signed/1\x00"
)

// NameOf is the log that a key begins with a nonce: the first half of a SHA-256.
func NameOf(public ed25519.PublicKey, nonce Nonce) ID { return nameOf(domainName, public, nonce) }

// RehearsalsNameOf is NameOf for a log of rehearsals: every record and signature names its
// log, so the name proves whether it holds rehearsals. Logs of rehearsals that were begun before
// schema 11 are named by NameOf.
func RehearsalsNameOf(public ed25519.PublicKey, nonce Nonce) ID {
	return nameOf(domainRehearsals, public, nonce)
}

func nameOf(domain string, public ed25519.PublicKey, nonce Nonce) ID {
	h := sha256.New()
	h.Write([]byte(domain))
	h.Write(public)
	h.Write(nonce[:])
	var sum Digest
	h.Sum(sum[:0])
	return ID(sum[:16])
}

// Fingerprint names a key for people: the first 16 bytes of its SHA-256, in hex by fours.
func Fingerprint(public ed25519.PublicKey) string {
	sum := sha256.Sum256(public)
	text := hex.EncodeToString(sum[:16])
	out := text[:4]
	for i := 4; i < len(text); i += 4 {
		out += " " + text[i:i+4]
	}
	return out
}

// Next is the digest of record n, whose core follows the record with the digest prev;
// the first record is 1 and follows the zero digest.
func (id ID) Next(n uint64, prev Digest, core []byte) Digest {
	h := sha256.New()
	h.Write([]byte(domainRecord))
	h.Write(id[:])
	h.Write(binary.BigEndian.AppendUint64(nil, n))
	h.Write(prev[:])
	h.Write(core)
	var sum Digest
	h.Sum(sum[:0])
	return sum
}

// Sign signs a log up to record n: the digest covers every record before it.
func Sign(key ed25519.PrivateKey, id ID, n uint64, digest Digest) []byte {
	return ed25519.Sign(key, signedMessage(id, n, digest))
}

// Signed says whether a signature is the key's over a log up to record n.
func Signed(public ed25519.PublicKey, id ID, n uint64, digest Digest, signature []byte) bool {
	return len(public) == ed25519.PublicKeySize && ed25519.Verify(public, signedMessage(id, n, digest), signature)
}

func signedMessage(id ID, n uint64, digest Digest) []byte {
	m := append([]byte(domainSigned), id[:]...)
	m = binary.BigEndian.AppendUint64(m, n)
	return append(m, digest[:]...)
}

// Head is how far a writer had seen another log: up to record N, whose digest begins
// with Digest.
type Head struct {
	Log    ID
	N      uint64
	Digest [8]byte
}

// Record is one record of a log.
type Record struct {
	// Counter is a logical clock: one more than the highest that the writer knew.
	Counter uint64
	// Heads are the logs that moved since the record before, in the order of their names.
	Heads []Head
	Body  []byte
}

// maxHeads bounds how many logs one record can name.
const maxHeads = 1 << 16

const headSize = 16 + 8 + 8

var errShape = errors.New("a record of a log is out of shape")

// Core is the record as it is hashed, stored and sent.
func (r Record) Core() []byte {
	core := make([]byte, 0, 12+len(r.Heads)*headSize+len(r.Body))
	core = binary.AppendUvarint(core, r.Counter)
	core = binary.AppendUvarint(core, uint64(len(r.Heads)))
	for _, h := range r.Heads {
		core = append(core, h.Log[:]...)
		core = binary.BigEndian.AppendUint64(core, h.N)
		core = append(core, h.Digest[:]...)
	}
	return append(core, r.Body...)
}

// ParseCore reads a record back. Body is a part of core.
func ParseCore(core []byte) (Record, error) {
	var r Record
	var size int
	if r.Counter, size = binary.Uvarint(core); size <= 0 {
		return r, errShape
	}
	core = core[size:]
	n, size := binary.Uvarint(core)
	if size <= 0 || n > maxHeads || n*headSize > uint64(len(core)-size) {
		return r, errShape
	}
	core = core[size:]
	for range n {
		r.Heads = append(r.Heads, Head{ID(core[:16]), binary.BigEndian.Uint64(core[16:]), [8]byte(core[24:32])})
		core = core[headSize:]
	}
	r.Body = core
	return r, nil
}
