package share

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"

	"filippo.io/age"
	"filippo.io/age/agessh"
	"golang.org/x/crypto/ssh"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

// Seal closes the records of what is exchanged, so that only the laptops of the practice
// can read them, and opens what is closed to this one. What closes a segment is
//
//	how many laptops 2 ‖ tag 8 of each ‖ age file (age-encryption.org/v1)
//
// An age file is closed to the Ed25519 keys by which the roster knows the laptops (agessh
// derives the X25519 keys from them), so that no laptop has a second key to make, to let
// in or to lose, and the six words that are read aloud cover it. The tags say to everybody
// to whom a segment is closed: whoever can open it closes it anew for those who came later.
type Seal struct {
	on   bool
	own  age.Identity
	tag  Tag
	to   []age.Recipient // the laptops that are in
	tags []Tag           // theirs, in order
}

// Tag stands for a laptop's key where something is sealed to it.
type Tag [8]byte

// MarshalText is the tag in hex.
func (t Tag) MarshalText() ([]byte, error) { return hex.AppendEncode(nil, t[:]), nil }

// UnmarshalText reads it back.
func (t *Tag) UnmarshalText(text []byte) error {
	if hex.DecodedLen(len(text)) != len(t) {
		return errSeal
	}
	_, err := hex.Decode(t[:], text)
	return err
}

const domainTag = "loosebox/sealed to/1\x00"

func tagOf(key ed25519.PublicKey) Tag {
	sum := sha256.Sum256(append([]byte(domainTag), key...))
	return Tag(sum[:8])
}

// errSeal is wrapped where what closes a segment is out of shape.
var errSeal = errors.New("it was sealed wrong, or was changed")

// sealer is what sealing needs of a record.
type sealer interface {
	Key() ed25519.PublicKey
	Identity() (age.Identity, error)
}

// SealOf is how a laptop of a practice seals and opens. Without a practice nothing is sealed.
func SealOf(have roster.Roster, r sealer) (*Seal, error) {
	l := &Seal{on: have.Sealed()}
	if have.None() || r.Key() == nil {
		return l, nil
	}
	var err error
	if l.own, err = r.Identity(); err != nil {
		return nil, err
	}
	l.tag = tagOf(r.Key())
	for _, one := range have.Laptops() {
		if one.Membership != roster.In {
			continue
		}
		if l.on {
			to, ok := recipient(one.Key)
			if !ok {
				continue
			}
			l.to = append(l.to, to)
		}
		l.tags = append(l.tags, tagOf(one.Key))
	}
	slices.SortFunc(l.tags, func(a, b Tag) int { return bytes.Compare(a[:], b[:]) })
	return l, nil
}

// recipient is a key as age seals to it; false for one to which nothing can be sealed, such
// as no laptop makes.
func recipient(key ed25519.PublicKey) (age.Recipient, bool) {
	public, err := ssh.NewPublicKey(key)
	if err != nil {
		return nil, false
	}
	to, err := agessh.NewEd25519Recipient(public)
	if err != nil {
		return nil, false
	}
	_, err = to.Wrap(make([]byte, 16)) // the size of the key of an age file
	return to, err == nil
}

// Bytes are a segment as a file and as a message, sealed where the practice says so.
func (l *Seal) Bytes(s signedlog.Segment) ([]byte, error) {
	if !l.on {
		return s.Bytes(), nil
	}
	return s.Sealed(l.close)
}

// Name tells what is sealed to the laptops of now from what is sealed to others; empty
// where nothing is sealed.
func (l *Seal) Name() string {
	if !l.on {
		return ""
	}
	sum := sha256.Sum256(bytes.Join(l.list(), nil))
	return fmt.Sprintf("%x", sum[:6])
}

func (l *Seal) list() (out [][]byte) {
	for _, t := range l.tags {
		out = append(out, t[:])
	}
	return out
}

// close closes packed records to the laptops that are in.
func (l *Seal) close(packed []byte) ([]byte, error) {
	var b bytes.Buffer
	b.Write(binary.BigEndian.AppendUint16(nil, uint16(len(l.tags)))) //nolint:gosec // laptops of one practice
	for _, t := range l.tags {
		b.Write(t[:])
	}
	w, err := age.Encrypt(&b, l.to...)
	if err == nil {
		_, err = w.Write(packed)
		err = errors.Join(err, w.Close())
	}
	if err != nil {
		return nil, fmt.Errorf("seal records to the laptops of the practice: %w", err)
	}
	return b.Bytes(), nil
}

// OpenedSegment is a segment from a file or a message whose key signed it.
type OpenedSegment struct {
	signedlog.Segment // without its records where it is closed
	Digests           []signedlog.Digest
	End               signedlog.RecordRef // its last record
	Lines             int
	Closed            bool // it is sealed, and not to this laptop
	Sealed            bool
	To                []Tag // whom it is sealed to
}

// Open verifies a segment from a file or a message, and opens it where it is sealed to this
// laptop. What is sealed to others is verified as far as it can be without its records.
func (l *Seal) Open(b []byte) (o OpenedSegment, err error) {
	w, err := signedlog.ReadWire(b)
	if err != nil {
		return o, err
	}
	o = OpenedSegment{Segment: w.Head(), End: signedlog.RecordRef{N: w.Last, Digest: w.Digest}, Lines: int(w.Last - w.First + 1), Sealed: w.Sealed} //nolint:gosec // four bytes of count
	packed := w.Body
	if w.Sealed {
		var file []byte
		if o.To, file, err = splitSeal(w.Body); err != nil {
			return o, err
		}
		if l.own == nil || !slices.Contains(o.To, l.tag) {
			o.Closed = true
			return o, nil
		}
		if packed, err = l.open(file); err != nil {
			return o, err
		}
	}
	o.Segment, o.Digests, err = w.Open(packed)
	return o, err
}

// wrote is what Bytes made of a segment.
func (l *Seal) wrote(s signedlog.Segment, digests []signedlog.Digest) OpenedSegment {
	return OpenedSegment{
		Segment: s, Digests: digests, End: signedlog.RecordRef{N: s.Last(), Digest: digests[len(digests)-1]}, Lines: len(s.Cores),
		Sealed: l.on, To: slices.Clone(l.tags),
	}
}

func splitSeal(body []byte) (to []Tag, file []byte, err error) {
	const size = len(Tag{})
	if len(body) < 2 {
		return nil, nil, errSeal
	}
	n := int(binary.BigEndian.Uint16(body))
	if body = body[2:]; len(body) < n*size {
		return nil, nil, errSeal
	}
	for range n {
		to, body = append(to, Tag(body[:size])), body[size:]
	}
	return to, body, nil
}

func (l *Seal) open(file []byte) ([]byte, error) {
	r, err := age.Decrypt(bytes.NewReader(file), l.own)
	if err == nil {
		file, err = io.ReadAll(io.LimitReader(r, signedlog.MaxBytes))
	}
	if err != nil {
		return nil, fmt.Errorf("%w (%w)", errSeal, err)
	}
	return file, nil
}

// Reaches says whether every laptop that is in can read what is in a segment.
func (l *Seal) Reaches(sealed bool, to []Tag) bool {
	return !sealed || l.Includes(to)
}

// Includes says whether every laptop that is in is among these.
func (l *Seal) Includes(to []Tag) bool {
	return !slices.ContainsFunc(l.tags, func(t Tag) bool { return !slices.Contains(to, t) })
}

// Tags stand for the laptops that are in.
func (l *Seal) Tags() []Tag { return l.tags }
