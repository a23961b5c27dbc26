package hub

import (
	"context"
	"crypto/ed25519"
	"crypto/tls"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/nats-io/nats.go"

	"loosebox/exam/roster"
)

// A laptop can ask to come in at the hub, without a stick. It connects as a guest, who may do
// nothing but hand its request over and hear whether it was let in.

// GuestName is what a connection is called that asks to come in.
const GuestName = "loosebox guest"

// AskSubject is where a guest asks: with a request, or with nothing to hear of an earlier one.
func AskSubject(key string) string { return "ask.v1." + key }

// AskedSubject is where a laptop of the practice hears who asks.
func AskedSubject(practice string) string { return "asked.v1." + practice }

// Guest is what asking to come in needs of a record; *storage.Record is one.
type Guest interface {
	Key() ed25519.PublicKey
	SignNonce(nonce []byte) ([]byte, error)
}

// Reply is what a hub says to a guest: the answer where it was let in, else what is wrong, or
// nothing where it has to wait.
type Reply struct {
	Answer  []byte `json:"answer,omitempty"`
	Problem string `json:"problem,omitempty"`
}

// IsAddress says that a text is the address of a hub, and so no file.
func IsAddress(text string) bool {
	_, err := servers(text)
	return err == nil && !strings.ContainsAny(text, `/\`)
}

// Ask hands a request over to the hub at an address, or asks what came of an earlier one where
// it is nil. It returns the answer once the laptop was let in, and nil until then.
//
// The guest does not know the hub's certificate yet and believes any: what it hands over is no
// secret, and the answer counts only once a person has compared the practice's words.
func Ask(ctx context.Context, address string, g Guest, request []byte) ([]byte, error) {
	urls, err := servers(address)
	if err != nil {
		return nil, err
	}
	if g.Key() == nil {
		return nil, errors.New("this laptop has no key: nothing was asked")
	}
	d := &dialer{}
	d.until(ctx)
	h := &Connection{}
	unseen := &tls.Config{MinVersion: tls.VersionTLS13, ServerName: ServerName, InsecureSkipVerify: true} // see above
	nc, err := nats.Connect(strings.Join(urls, ","), nats.Name(GuestName),
		nats.Nkey(KeyName(g.Key()), g.SignNonce), nats.Secure(unseen), nats.CustomInboxPrefix(Inbox(g.Key())),
		nats.NoReconnect(), nats.IgnoreDiscoveredServers(), nats.SetCustomDialer(d), nats.Timeout(dialTime),
		nats.ErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) { h.note(err) }), // without one it writes to the terminal
	)
	switch {
	case errors.Is(err, nats.ErrAuthorization):
		return nil, fmt.Errorf("this hub takes no requests now; nothing was changed. Try again later, or use a stick (%w)", err)
	case err != nil:
		return nil, fmt.Errorf("%w at %s, so nothing was asked. Look at the address and the network (%w)", ErrAway, address, err)
	}
	defer nc.Close()
	wait, stop := context.WithTimeout(ctx, replyTime)
	defer stop()
	back, err := nc.RequestWithContext(wait, AskSubject(KeyName(g.Key())), request)
	if err != nil {
		return nil, fmt.Errorf("%w at %s any more. Ask again (%w)", ErrAway, address, errors.Join(err, h.last()))
	}
	var r Reply
	switch err := json.Unmarshal(back.Data, &r); {
	case err != nil:
		return nil, fmt.Errorf("%w: its answer cannot be read (%w)", ErrAway, err)
	case r.Problem != "":
		return nil, errors.New(r.Problem)
	}
	return r.Answer, nil
}

// Asked lists the requests that wait at the hub, of laptops that nobody let in yet.
func (h *Connection) Asked(ctx context.Context, r Record) ([]roster.Request, error) {
	have, err := r.Roster()
	if err != nil {
		return nil, err
	}
	practice := have.Practice.ID()
	if err := h.connect(ctx, r, practice); err != nil {
		return nil, err
	}
	wait, stop := context.WithTimeout(ctx, replyTime)
	defer stop()
	back, err := h.nc.RequestWithContext(wait, AskedSubject(practice), nil)
	switch {
	case errors.Is(err, nats.ErrNoResponders):
		return nil, errors.New("this hub takes no requests of laptops: bring the request by a stick")
	case err != nil:
		return nil, h.explain(err)
	}
	var texts [][]byte
	if err := json.Unmarshal(back.Data, &texts); err != nil {
		return nil, fmt.Errorf("%w: its answer cannot be read (%w)", ErrAway, err)
	}
	var out []roster.Request
	for _, text := range texts {
		if q, err := roster.ReadRequest(text); err == nil && have.Membership(q.Key) != roster.In {
			out = append(out, q)
		}
	}
	return out, nil
}
