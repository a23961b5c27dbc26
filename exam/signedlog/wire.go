package signedlog

import (
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// wireMagic begins a segment as a file or a message: form 1.
const wireMagic = "loosebox segment 1\n"

// Bounds of a segment as it is written.
const (
	// MaxBytes is the longest file or message that is read.
	MaxBytes = 1 << 20
	// maxWireRaw bounds the cores of one that is read.
	maxWireRaw = 4 << 20
)

// WireHead is how many bytes of a segment ReadLabel needs.
const WireHead = len(wireMagic) + 1 + ed25519.PublicKeySize + 8 + 8 + 4 + 32 + 32 + ed25519.SignatureSize + 4

// sumSize is the CRC-32C of all that is before it: it finds what the signature does not cover.
const sumSize = 4

// The flags: a log of rehearsals, and one whose name says so. Another flag makes another
// name of key and nonce, under which nothing was signed.
const (
	rehearsalsFlag = 1
	provenFlag     = 2
)

// ErrNoSegment is wrapped where bytes are no segment at all, or one that was cut off.
var ErrNoSegment = errors.New("it is no segment of a log, or was cut off")

// Label is what a segment says of itself before anything was verified.
type Label struct {
	Log         ID
	First, Last uint64
	Digest      Digest // of the last record
}

// Point is a record of a log and the digest by which it is known.
type Point struct {
	N      uint64
	Digest Digest
}

// Bytes are the segment as a file and as a message, the same bytes for both:
//
//	magic ‖ flags 1 ‖ key 32 ‖ nonce 8 ‖ first 8 ‖ count 4 ‖ digest before 32 ‖
//	last digest 32 ‖ signature 64 ‖ raw length 4 ‖ packed cores ‖ CRC-32C 4
//
// Numbers are big endian. The name of the log follows from flags, key and nonce.
func (s Segment) Bytes() []byte {
	digests := s.Digests()
	packed := Pack(s.Cores)
	b := append(make([]byte, 0, WireHead+len(packed)+sumSize), wireMagic...)
	flags := byte(0)
	if s.Rehearsals {
		flags = rehearsalsFlag
	}
	if s.Proven() {
		flags |= provenFlag
	}
	b = append(append(append(b, flags), s.Public...), s.Nonce[:]...)
	b = binary.BigEndian.AppendUint64(b, s.First)
	b = binary.BigEndian.AppendUint32(b, uint32(len(s.Cores)))
	b = append(append(b, s.Prev[:]...), digests[len(digests)-1][:]...)
	b = append(b, s.Signature...)
	b = binary.BigEndian.AppendUint32(b, uint32(s.raw()))
	b = append(b, packed...)
	return binary.BigEndian.AppendUint32(b, crc32.Checksum(b, crc32.MakeTable(crc32.Castagnoli)))
}

// ReadLabel reads what the beginning of a segment says; nothing of it is verified.
func ReadLabel(b []byte) (Label, error) {
	_, label, _, err := readWireHead(b)
	return label, err
}

// readWireHead takes the fields before the packed cores apart.
func readWireHead(b []byte) (s Segment, label Label, raw uint32, err error) {
	if len(b) < WireHead || !bytes.HasPrefix(b, []byte(wireMagic)) {
		return s, label, 0, ErrNoSegment
	}
	next := func(n int) (field []byte) {
		field, b = b[:n], b[n:]
		return field
	}
	next(len(wireMagic))
	flags := next(1)[0]
	s.Rehearsals = flags&rehearsalsFlag != 0
	s.Public = bytes.Clone(next(ed25519.PublicKeySize))
	s.Nonce = Nonce(next(8))
	s.First = binary.BigEndian.Uint64(next(8))
	count := binary.BigEndian.Uint32(next(4))
	s.Prev, label.Digest = Digest(next(32)), Digest(next(32))
	s.Signature = bytes.Clone(next(ed25519.SignatureSize))
	raw = binary.BigEndian.Uint32(next(4))
	s.Log = NameOf(s.Public, s.Nonce)
	if flags&provenFlag != 0 {
		s.Log = RehearsalsNameOf(s.Public, s.Nonce)
	}
	if s.First == 0 || count == 0 || flags > rehearsalsFlag|provenFlag || flags == provenFlag || s.First > 1<<62 {
		return s, label, 0, ErrNoSegment
	}
	label.Log, label.First, label.Last = s.Log, s.First, s.First+uint64(count)-1
	return s, label, raw, nil
}

// ReadSegment reads and verifies a segment from a file or a message, and returns the
// digests of its records.
func ReadSegment(b []byte) (Segment, []Digest, error) {
	s, label, raw, err := readWireHead(b)
	switch {
	case err != nil:
		return s, nil, err
	case len(b) < WireHead+sumSize:
		return s, nil, ErrNoSegment
	case len(b) > MaxBytes || raw > maxWireRaw:
		return s, nil, ErrLong
	}
	body, sum := b[:len(b)-sumSize], binary.BigEndian.Uint32(b[len(b)-sumSize:])
	if crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)) != sum {
		return s, nil, ErrNoSegment
	}
	if s.Cores, err = Unpack(body[WireHead:], int(label.Last-label.First+1)); err != nil {
		return s, nil, err
	}
	if s.raw() != int(raw) {
		return s, nil, ErrNoSegment
	}
	digests, err := s.Verify()
	if err == nil && digests[len(digests)-1] != label.Digest {
		err = fmt.Errorf("records %d to %d of log %s: %w", s.First, s.Last(), s.Log, ErrSignature)
	}
	return s, digests, err
}
