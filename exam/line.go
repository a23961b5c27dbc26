package exam

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"
)

// Line is one stored line of a record as it lies on the disk, with the digest it
// was stored under: a revision of a horse, or an entry of a visit; or one line of a
// day's round. It is what an export carries, so that an import has the very bytes
// that were signed for.
type Line struct {
	Kind LineKind
	// Body is the JSON that was stored; for an entry as Seal wrote it.
	Body []byte
	Hash Hash
}

// LineKind says what a line is.
type LineKind string

// The kinds of line.
const (
	LineHorse LineKind = "horse"
	LineEntry LineKind = "entry"
	LineRound LineKind = "round"
)

// LineKinds lists every kind, in the order in which an export has them.
func LineKinds() []LineKind { return []LineKind{LineHorse, LineEntry, LineRound} }

// HorseLine is a revision of a horse as it is stored: what was said, by whom, when.
type HorseLine struct {
	Horse Horse     `json:"horse"`
	By    string    `json:"by"`
	At    time.Time `json:"at"`
}

// What stands before the bytes of a horse, and of a line of a round, when they are
// hashed.
const (
	horseSealed = "loosebox/horse/1\x00"
	roundSealed = "loosebox/round/1\x00"
)

// HorseDigest is the hash of a horse's stored bytes.
func HorseDigest(body []byte) Hash { return digest(horseSealed, body) }

func digest(what string, body []byte) Hash {
	h := sha256.New()
	h.Write([]byte(what))
	h.Write(body)
	return Hash(hex.EncodeToString(h.Sum(nil)))
}

// LineDigest is the hash of the bytes of a line of a kind.
func LineDigest(kind LineKind, body []byte) Hash {
	switch kind {
	case LineHorse:
		return HorseDigest(body)
	case LineRound:
		return digest(roundSealed, body)
	case LineEntry:
	}
	return Digest(body)
}

// SealHorse turns a revision into the line that is stored.
func SealHorse(l HorseLine) (Line, error) { return seal(LineHorse, l) }

// SealRound turns a line of a round into the line that an export carries.
func SealRound(l RoundLine) (Line, error) { return seal(LineRound, l) }

func seal(kind LineKind, l any) (Line, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(l); err != nil {
		return Line{}, fmt.Errorf("write %s: %w", kind, err)
	}
	body := bytes.TrimSuffix(b.Bytes(), []byte("\n"))
	return Line{Kind: kind, Body: body, Hash: LineDigest(kind, body)}, nil
}

// UnsealRound reads a line of a round back and checks it against its digest. Every
// error wraps ErrDamaged.
func UnsealRound(l Line) (RoundLine, error) {
	var out RoundLine
	if LineDigest(LineRound, l.Body) != l.Hash {
		return out, fmt.Errorf("a line of a round does not match its digest: %w", ErrDamaged)
	}
	if err := json.Unmarshal(l.Body, &out); err != nil {
		return out, fmt.Errorf("a line of a round cannot be read (%s): %w", err.Error(), ErrDamaged)
	}
	return out, nil
}

// UnsealHorse reads a revision back and checks it against its digest. Every error
// wraps ErrDamaged.
func UnsealHorse(l Line) (HorseLine, error) {
	if HorseDigest(l.Body) != l.Hash {
		return HorseLine{}, fmt.Errorf("a revision of a horse does not match its digest: %w", ErrDamaged)
	}
	var h HorseLine
	if err := json.Unmarshal(l.Body, &h); err != nil {
		return HorseLine{}, fmt.Errorf("a revision of a horse cannot be read (%s): %w", err.Error(), ErrDamaged)
	}
	return h, nil
}
