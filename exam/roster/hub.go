package roster

import (
	"bytes"
	"unicode"
)

// Hub is a server where the laptops of a practice meet, as the practice names it.
type Hub struct {
	// Address is host:port; several servers of one hub are parted by commas.
	Address string `json:"address"`
	// Certificate is what the hub shows, as PEM text: laptops believe no other.
	Certificate string `json:"certificate"`
}

// maxHub bounds what a statement says of a hub, in bytes.
const maxHub = 32 << 10

// plain says that a hub's words can be shown and stored as they are.
func (h Hub) plain() bool {
	for _, c := range h.Address {
		if !unicode.IsPrint(c) || unicode.IsSpace(c) {
			return false
		}
	}
	for _, c := range h.Certificate {
		if c != '\n' && (c < ' ' || c > '~') {
			return false
		}
	}
	return len(h.Address)+len(h.Certificate) <= maxHub
}

// Hub is where the practice meets: what was said last of it counts. False where nothing
// was said, or that there is none any more.
func (r Roster) Hub() (Hub, bool) {
	last := r.last(func(s Statement) bool { return s.Hub != nil })
	if last == nil || last.Hub.Address == "" {
		return Hub{}, false
	}
	return *last.Hub, true
}

// Sealed says whether what the practice exchanges is closed to all but its laptops: what
// was said last of it counts.
func (r Roster) Sealed() bool {
	last := r.last(func(s Statement) bool { return s.Sealed != nil })
	return last != nil && *last.Sealed
}

// last is the statement of a kind that was made last; nil for none. Of two at once all
// laptops take the same.
func (r Roster) last(of func(Statement) bool) (last *Statement) {
	for i, s := range r.Said {
		if of(s) && (last == nil || s.At.After(last.At) || s.At.Equal(last.At) && bytes.Compare(s.body, last.body) > 0) {
			last = &r.Said[i]
		}
	}
	return last
}
