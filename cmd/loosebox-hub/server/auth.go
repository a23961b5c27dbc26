package server

import (
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"sync"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nkeys"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage/share/hub"
)

// doorman is the server's authentication: it lets in the laptops that the roster has in the practice, and guests.
type doorman struct {
	practice *practice
	secret   string // of the connection within this process
	say      func(string)
	now      func() time.Time

	mu      sync.Mutex
	inside  map[uint64]string // connections by their numbers: whose key
	refused map[string]bool   // keys whose refusal was reported
	// visiting are the connections of guests by their numbers: since when.
	visiting map[uint64]time.Time
}

// Check reports whether a connection is let in: a laptop of the practice, or a guest, that has signed the nonce with its
// key; or this process. It sets the permissions of the connection.
func (d *doorman) Check(c natsserver.ClientAuthentication) bool {
	o := c.GetOpts()
	if c.Kind() != natsserver.CLIENT {
		return false
	}
	if o.Nkey == "" {
		if subtle.ConstantTimeCompare([]byte(o.Password), []byte(d.secret)) != 1 {
			return false
		}
		c.RegisterUser(&natsserver.User{Username: "hub"})
		return true
	}
	sig, err := base64.RawURLEncoding.DecodeString(o.Sig)
	if err != nil {
		return false
	}
	public, err := nkeys.FromPublicKey(o.Nkey)
	if err != nil || public.Verify(c.GetNonce(), sig) != nil {
		return false
	}
	if o.Name == hub.GuestName {
		c.RegisterUser(&natsserver.User{Username: o.Nkey, Permissions: guest(o.Nkey)})
		return d.visit(c.GetID())
	}
	r := d.practice.roster()
	if !within(r, o.Nkey) {
		d.refuse(r, o.Nkey)
		return false
	}
	c.RegisterUser(&natsserver.User{Username: o.Nkey, Permissions: permissions(r.Practice.ID(), o.Nkey)})
	d.mu.Lock()
	defer d.mu.Unlock()
	d.inside[c.GetID()] = o.Nkey
	return true
}

// maxRefused is how many different refused keys are reported and remembered, so that made-up keys do not fill the memory.
const maxRefused = 1000

// refuse reports once for each key that it was refused: by the laptop's name where the practice knows it, else by the
// fingerprint that share status shows.
func (d *doorman) refuse(r roster.Roster, name string) {
	d.mu.Lock()
	told := d.refused[name] || len(d.refused) >= maxRefused
	if !told {
		d.refused[name] = true
	}
	d.mu.Unlock()
	if told {
		return
	}
	for _, l := range r.Laptops() {
		if hub.KeyName(l.Key) == name {
			d.say(fmt.Sprintf("the laptop %s was refused: in the practice it is %q", l.Name, l.Membership))
			return
		}
	}
	if key, err := nkeys.Decode(nkeys.PrefixByteUser, []byte(name)); err == nil {
		d.say("a laptop was refused that nobody let in: key " + signedlog.Fingerprint(key))
	}
}

// within reports whether the key is that of a laptop in the practice.
func within(r roster.Roster, name string) bool {
	for _, l := range r.Laptops() {
		if l.Membership == roster.In && hub.KeyName(l.Key) == name {
			return true
		}
	}
	return false
}

// outside lists the connections of laptops that are no longer in the practice, and forgets closed connections. There
// reports whether a connection is open.
func (d *doorman) outside(there func(uint64) bool) (list []uint64) {
	r := d.practice.roster()
	d.mu.Lock()
	defer d.mu.Unlock()
	for id, name := range d.inside {
		switch {
		case !there(id):
			delete(d.inside, id)
		case !within(r, name):
			delete(d.inside, id)
			list = append(list, id)
		}
	}
	return list
}

// permissions are what a laptop may do: read the stream, write its own logs, carry logs of others under its own name, and
// be told that something is new.
func permissions(practice, key string) *natsserver.Permissions {
	return &natsserver.Permissions{
		Publish:   &natsserver.SubjectPermission{Allow: mayPublish(practice, key)},
		Subscribe: &natsserver.SubjectPermission{Allow: maySubscribe(practice, key)},
	}
}

func mayPublish(practice, key string) []string {
	return []string{
		"log.v1." + practice + "." + key + ".*", "carry.v1." + practice + "." + key + ".*",
		"$JS.API.DIRECT.GET." + hub.Stream(practice), hub.AskedSubject(practice),
	}
}

func maySubscribe(practice, key string) []string {
	return []string{"_INBOX_" + key + ".>", "new.v1." + practice + ".>"}
}
