// Package roster says which laptops share a practice's record. A statement about one
// laptop, that it is in or that it is out, is signed by the practice's key, each by
// itself: they are a set, and whoever holds the same set comes to the same roster. It
// knows no file, no clock and no chance.
package roster

import (
	"bytes"
	"cmp"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"loosebox/exam/signedlog"
)

// Practice is who shares: its name, and the key that signs its statements.
type Practice struct {
	Name string
	Key  ed25519.PublicKey
}

// ID names a practice by its key, for files: 32 hex digits.
func (p Practice) ID() string {
	sum := sha256.Sum256(append([]byte("loosebox/practice/1\x00"), p.Key...))
	return hex.EncodeToString(sum[:16])
}

// Words are the practice as it is read aloud.
func (p Practice) Words() string { return words("loosebox/practice words/1\x00", p.Key, p.Name) }

// Statement says of one laptop that it is in or out, or of the practice where its hub is or
// whether it seals what it exchanges.
type Statement struct {
	Practice Practice
	Key      ed25519.PublicKey // of the laptop
	Name     string            // of the laptop
	Out      bool
	// Until is how far the logs of a laptop count, by log, where it is out; a log that is
	// not named does not count at all. Of one that is not out it says that these lines count
	// although nobody let the laptop in: the practice began with them.
	Until map[signedlog.ID]uint64
	At    time.Time
	// Hub is where the practice meets; such a statement is of no laptop. Without an address
	// it says that there is no hub any more.
	Hub *Hub
	// Sealed says whether what the practice exchanges is sealed; such a statement is of no
	// laptop either.
	Sealed *bool

	body, signature []byte
}

// Digest knows a statement.
func (s Statement) Digest() signedlog.Digest { return sha256.Sum256(s.Bytes()) }

// Roster is a practice and what was said of its laptops. The zero value is no practice.
type Roster struct {
	Practice Practice
	Said     []Statement // in the order of their digests
}

// None says that there is no practice.
func (r Roster) None() bool { return r.Practice.Key == nil }

// Add adds a statement, and says whether it is a new one of this practice.
func (r *Roster) Add(s Statement) bool {
	if r.None() {
		r.Practice = s.Practice
	}
	if !bytes.Equal(s.Practice.Key, r.Practice.Key) {
		return false
	}
	d := s.Digest()
	i, held := slices.BinarySearchFunc(r.Said, d, func(o Statement, d signedlog.Digest) int {
		e := o.Digest()
		return bytes.Compare(e[:], d[:])
	})
	if !held {
		r.Said = slices.Insert(r.Said, i, s)
	}
	return !held
}

// After is a time for the next statement: behind all that was said, also where the clock of
// the laptop that says it is slow. Of two statements about one thing the later one counts.
func (r Roster) After(now time.Time) time.Time {
	for _, s := range r.Said {
		if !s.At.Before(now) {
			now = s.At.Add(time.Second)
		}
	}
	return now
}

// ofPractice says that a statement is of the practice and not of a laptop.
func (s Statement) ofPractice() bool { return s.Hub != nil || s.Sealed != nil }

// Membership is how a laptop stands with a practice.
type Membership int

// How a laptop can stand.
const (
	Unknown Membership = iota // nothing was said of it
	Earlier                   // lines of it count that are older than the practice, or than a laptop's coming in
	In
	Out
)

// says is how a laptop stands by one statement.
func (s Statement) says() Membership {
	switch {
	case s.ofPractice():
		return Unknown
	case s.Out:
		return Out
	case len(s.Until) > 0:
		return Earlier
	default:
		return In
	}
}

// String is the standing as it stands in files and is shown.
func (s Membership) String() string { return [...]string{"unknown", "earlier", "in", "out"}[s] }

// Laptop is one laptop of a practice.
type Laptop struct {
	Key        ed25519.PublicKey
	Name       string
	Membership Membership
	Since      time.Time // of the statement that counts
}

// Laptops lists every laptop of which something was said: by name, those in before those
// that are out.
func (r Roster) Laptops() []Laptop {
	at := map[string]int{}
	var out []Laptop
	for _, s := range r.Said {
		if s.ofPractice() {
			continue
		}
		i, ok := at[string(s.Key)]
		if !ok {
			i = len(out)
			at[string(s.Key)], out = i, append(out, Laptop{Key: s.Key})
		}
		l := &out[i]
		standing := s.says()
		// Out beats in, and in beats earlier; of two that say the same the later one names it, then the one behind.
		if standing > l.Membership || standing == l.Membership && !s.At.Before(l.Since) {
			l.Membership, l.Name, l.Since = standing, s.Name, s.At
		}
	}
	slices.SortFunc(out, func(a, b Laptop) int {
		return cmp.Or(cmp.Compare(a.Membership, b.Membership), cmp.Compare(a.Name, b.Name), bytes.Compare(a.Key, b.Key))
	})
	return out
}

// Membership is how a laptop stands, by its key.
func (r Roster) Membership(key ed25519.PublicKey) Membership {
	standing := Unknown
	for _, s := range r.Said {
		if bytes.Equal(s.Key, key) {
			standing = max(standing, s.says())
		}
	}
	return standing
}

// Until is how far a log of a laptop counts; whole is true where all of it does, and of
// a laptop that is in. Of several statements that a laptop is out the smallest counts, of
// several about earlier lines the largest.
func (r Roster) Until(key ed25519.PublicKey, log signedlog.ID) (n uint64, whole bool) {
	standing := r.Membership(key)
	if standing == In || standing == Unknown {
		return 0, true
	}
	first := true
	for _, s := range r.Said {
		if s.says() != standing || !bytes.Equal(s.Key, key) {
			continue
		}
		until := s.Until[log]
		if first || standing == Out && until < n || standing == Earlier && until > n {
			n, first = until, false
		}
	}
	return n, false
}
