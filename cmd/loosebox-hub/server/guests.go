package server

import (
	"bytes"
	"encoding/json"
	"sync"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"

	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// guests holds the requests of laptops that ask to join the practice. They are kept in memory only, and limited in number and
// size, because anybody who can reach the hub can ask.
type guests struct {
	now func() time.Time

	mu    sync.Mutex
	asked []asked
}

type asked struct {
	key  string // as in subjects
	text []byte
	at   time.Time
}

// Limits for guests.
const (
	maxAsked    = 8        // waiting requests
	maxRequest  = 64 << 10 // bytes of a request
	askedFor    = 24 * time.Hour
	askedAtRest = 10 * time.Minute // after this a new request may replace it
	maxGuests   = 16               // connections
	guestFor    = time.Minute      // for one connection
)

// Replies to a guest.
const (
	sayUnsound = "the hub cannot read this request: nothing was changed. Update the older of the two programs"
	sayLong    = "this laptop's request is too long for the hub: bring it by a stick"
	sayMany    = "too many laptops ask at this hub now: try again in ten minutes, or use a stick"
)

// ask answers a guest: with the roster if its laptop is in the practice by now, else it keeps the request.
func (g *guests) ask(r roster.Roster, key string, text []byte) hub.Reply {
	if within(r, key) {
		g.forget(key)
		return hub.Reply{Answer: r.Answer()}
	}
	if len(text) == 0 {
		return hub.Reply{}
	}
	if len(text) > maxRequest {
		return hub.Reply{Problem: sayLong}
	}
	q, err := roster.ReadRequest(text)
	if err != nil || hub.KeyName(q.Key) != key {
		return hub.Reply{Problem: sayUnsound}
	}
	g.forget(key)
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	if len(g.asked) >= maxAsked && now.Sub(g.asked[0].at) < askedAtRest {
		return hub.Reply{Problem: sayMany}
	}
	g.asked = append(g.asked[max(len(g.asked)-maxAsked+1, 0):], asked{key, bytes.Clone(text), now})
	return hub.Reply{}
}

// forget removes the request of a laptop, and requests older than a day.
func (g *guests) forget(key string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now, kept := g.now(), g.asked[:0]
	for _, a := range g.asked {
		if a.key != key && now.Sub(a.at) < askedFor {
			kept = append(kept, a)
		}
	}
	g.asked = kept
}

// waiting are the requests, the oldest first.
func (g *guests) waiting() [][]byte {
	g.forget("")
	g.mu.Lock()
	defer g.mu.Unlock()
	out := [][]byte{}
	for _, a := range g.asked {
		out = append(out, a.text)
	}
	return out
}

// takeGuests subscribes to the requests of guests, and to the question of laptops of the practice which requests wait.
func (s *Server) takeGuests(nc *nats.Conn, practice string) error {
	respond := func(m *nats.Msg, what any) {
		if data, err := json.Marshal(what); err == nil {
			_ = m.Respond(data) // fails where the asker has left
		}
	}
	_, err := nc.Subscribe(hub.AskSubject("*"), func(m *nats.Msg) {
		reply := s.guests.ask(s.practice.roster(), m.Subject[len(hub.AskSubject("")):], m.Data)
		if len(m.Data) > 0 && reply.Answer == nil && reply.Problem == "" {
			s.o.Say("a laptop asks to come in")
		}
		respond(m, reply)
	})
	if err == nil {
		_, err = nc.Subscribe(hub.AskedSubject(practice), func(m *nats.Msg) { respond(m, s.guests.waiting()) })
	}
	return err
}

// guest is the permissions of a guest: to ask, and to get its own answer.
func guest(key string) *natsserver.Permissions {
	return &natsserver.Permissions{
		Publish:   &natsserver.SubjectPermission{Allow: []string{hub.AskSubject(key)}},
		Subscribe: &natsserver.SubjectPermission{Allow: []string{"_INBOX_" + key + ".>"}},
	}
}

// visit lets a guest connect for a minute; false where 16 are connected.
func (d *doorman) visit(id uint64) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if len(d.visiting) >= maxGuests {
		return false
	}
	d.visiting[id] = d.now()
	return true
}

// gone lists the guests whose time is over, and forgets them and closed connections.
func (d *doorman) gone(there func(uint64) bool) (list []uint64) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for id, since := range d.visiting {
		over := d.now().Sub(since).Abs() > guestFor
		if over {
			list = append(list, id)
		}
		if over || !there(id) {
			delete(d.visiting, id)
		}
	}
	return list
}

// seeGuestsOff ends the connections of guests whose time is over.
func (s *Server) seeGuestsOff() {
	for _, id := range s.door.gone(func(id uint64) bool { return s.ns.GetClient(id) != nil }) {
		_ = s.ns.DisconnectClientByID(id) // fails where it has left already
	}
}
