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

// The flags: a log of rehearsals, one whose name says so, and packed cores that are closed
// (who can open them is not of this package). Another flag of the first two makes another
// name of key and nonce, under which nothing was signed.
const (
	rehearsalsFlag = 1 << iota
	provenFlag
	sealedFlag
)

// What bytes are refused for, beside what Verify says.
var (
	// ErrNoSegment is wrapped where bytes are no segment at all, or one that was cut off.
	ErrNoSegment = errors.New("it is no segment of a log, or was cut off")
	// ErrSealed is wrapped where a segment is closed, and not opened here.
	ErrSealed = errors.New("it is sealed, and not to this laptop")
)

// Claim is what a segment says of itself before anything was verified.
type Claim struct {
	Log         ID
	First, Last uint64
	Digest      Digest // of the last record
}

// RecordRef is a record of a log and the digest by which it is known.
type RecordRef struct {
	N      uint64
	Digest Digest
}

// Bytes are the segment as a file and as a message, the same bytes for both:
//
//	magic ‖ flags 1 ‖ key 32 ‖ nonce 8 ‖ first 8 ‖ count 4 ‖ digest before 32 ‖
//	last digest 32 ‖ signature 64 ‖ raw length 4 ‖ packed cores ‖ CRC-32C 4
//
// Numbers are big endian. The name of the log follows from flags, key and nonce.
func (s Segment) Bytes() []byte { return s.wire(0, s.Packed()) }

// Sealed are the same bytes with the packed cores closed by seal. What stands before them
// stays as it is, so that whose records they are, which, and that their key signed them can
// be verified by whoever holds them (ReadWire).
func (s Segment) Sealed(seal func(packed []byte) ([]byte, error)) ([]byte, error) {
	closed, err := seal(s.Packed())
	if err != nil {
		return nil, err
	}
	return s.wire(sealedFlag, closed), nil
}

func (s Segment) wire(flags byte, body []byte) []byte {
	digests := s.Digests()
	b := append(make([]byte, 0, WireHead+len(body)+sumSize), wireMagic...)
	if s.Rehearsals {
		flags |= rehearsalsFlag
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
	b = append(b, body...)
	return binary.BigEndian.AppendUint32(b, crc32.Checksum(b, crc32.MakeTable(crc32.Castagnoli)))
}

// Wire is a segment as it was read, before its records are unpacked: it is whole, and the
// key of its log signed the last of its records.
type Wire struct {
	Claim
	Public ed25519.PublicKey
	Prev   Digest // of the record before the first
	Sealed bool
	Body   []byte // the packed cores, or what closes them; a part of what was read

	head Segment
	raw  uint32
}

// ReadLabel reads what the beginning of a segment says; nothing of it is verified.
func ReadLabel(b []byte) (Claim, error) {
	w, err := readWireHead(b)
	return w.Claim, err
}

// readWireHead takes the fields before the packed cores apart.
func readWireHead(b []byte) (w Wire, err error) {
	if len(b) < WireHead || !bytes.HasPrefix(b, []byte(wireMagic)) {
		return w, ErrNoSegment
	}
	next := func(n int) (field []byte) {
		field, b = b[:n], b[n:]
		return field
	}
	next(len(wireMagic))
	flags := next(1)[0]
	s := &w.head
	s.Rehearsals, w.Sealed = flags&rehearsalsFlag != 0, flags&sealedFlag != 0
	s.Public = bytes.Clone(next(ed25519.PublicKeySize))
	s.Nonce = Nonce(next(8))
	s.First = binary.BigEndian.Uint64(next(8))
	count := binary.BigEndian.Uint32(next(4))
	s.Prev, w.Digest = Digest(next(32)), Digest(next(32))
	s.Signature = bytes.Clone(next(ed25519.SignatureSize))
	w.raw = binary.BigEndian.Uint32(next(4))
	s.Log = NameOf(s.Public, s.Nonce)
	if flags&provenFlag != 0 {
		s.Log = RehearsalsNameOf(s.Public, s.Nonce)
	}
	mark := flags &^ sealedFlag
	if s.First == 0 || count == 0 || count > w.raw || mark > rehearsalsFlag|provenFlag || mark == provenFlag || s.First > 1<<62 {
		return w, ErrNoSegment
	}
	w.Public, w.Prev = s.Public, s.Prev
	w.Log, w.First, w.Last = s.Log, s.First, s.First+uint64(count)-1
	return w, nil
}

// ReadWire reads a file or a message, and verifies what can be without its records.
func ReadWire(b []byte) (Wire, error) {
	w, err := readWireHead(b)
	switch {
	case err != nil:
		return w, err
	case len(b) < WireHead+sumSize:
		return w, ErrNoSegment
	case len(b) > MaxBytes || w.raw > maxWireRaw:
		return w, ErrLong
	}
	body, sum := b[:len(b)-sumSize], binary.BigEndian.Uint32(b[len(b)-sumSize:])
	if crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)) != sum {
		return w, ErrNoSegment
	}
	w.Body = body[WireHead:]
	if w.First == 1 && w.Prev != (Digest{}) || !Signed(w.Public, w.Log, w.Last, w.Digest, w.head.Signature) {
		return w, w.unsigned()
	}
	return w, nil
}

func (w Wire) unsigned() error {
	return fmt.Errorf("records %d to %d of log %s: %w", w.First, w.Last, w.Log, ErrSignature)
}

// Open unpacks the records, makes sure that they are the ones that were signed, and returns
// their digests. Packed is Body, or what was closed in it.
func (w Wire) Open(packed []byte) (Segment, []Digest, error) {
	s := w.head
	var err error
	if s.Cores, err = Unpack(packed, int(w.Last-w.First+1)); err != nil {
		return s, nil, err
	}
	if s.raw() != int(w.raw) {
		return s, nil, ErrNoSegment
	}
	digests := s.Digests()
	if digests[len(digests)-1] != w.Digest {
		return s, nil, w.unsigned()
	}
	s.read = &asRead{s.Log, s.First, s.Prev, s.Cores, digests, packed}
	return s, digests, nil
}

// Head is the segment without its records.
func (w Wire) Head() Segment { return w.head }

// ReadSegment reads and verifies a segment from a file or a message, and returns the
// digests of its records. One that is sealed is not opened (ErrSealed).
func ReadSegment(b []byte) (Segment, []Digest, error) {
	w, err := ReadWire(b)
	switch {
	case err != nil:
		return w.head, nil, err
	case w.Sealed:
		return w.head, nil, ErrSealed
	}
	return w.Open(w.Body)
}
