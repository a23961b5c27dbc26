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
	var last *Statement
	for i, s := range r.Said {
		if s.Hub == nil {
			continue
		}
		if last == nil || s.At.After(last.At) || s.At.Equal(last.At) && bytes.Compare(s.body, last.body) > 0 {
			last = &r.Said[i]
		}
	}
	if last == nil || last.Hub.Address == "" {
		return Hub{}, false
	}
	return *last.Hub, true
}
