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
// was stored under: a revision of a horse, or an entry of a visit. It is what an
// export carries, so that an import has the very bytes that were signed for.
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
)

// HorseLine is a revision of a horse as it is stored: what was said, by whom, when.
type HorseLine struct {
	Horse Horse     `json:"horse"`
	By    string    `json:"by"`
	At    time.Time `json:"at"`
}

// horseSealed stands before the bytes of a horse when it is hashed.
const horseSealed = "loosebox/horse/1\x00"

// HorseDigest is the hash of a horse's stored bytes.
func HorseDigest(body []byte) Hash {
	h := sha256.New()
	h.Write([]byte(horseSealed))
	h.Write(body)
	return Hash(hex.EncodeToString(h.Sum(nil)))
}

// SealHorse turns a revision into the line that is stored.
func SealHorse(l HorseLine) (Line, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(l); err != nil {
		return Line{}, fmt.Errorf("write horse: %w", err)
	}
	body := bytes.TrimSuffix(b.Bytes(), []byte("\n"))
	return Line{Kind: LineHorse, Body: body, Hash: HorseDigest(body)}, nil
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
