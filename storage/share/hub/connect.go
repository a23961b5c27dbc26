package hub

import (
	"context"
	"crypto/ed25519"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"strings"
	"sync"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nkeys"

	"loosebox/exam/roster"
)

// What stands in the way of a hub.
var (
	ErrAway    = errors.New("the hub cannot be reached")
	ErrRefused = errors.New("the hub does not let this laptop in")
	ErrForeign = errors.New("the hub shows another certificate than the practice's")
)

// How long a hub is waited for.
const (
	dialTime  = 3 * time.Second
	replyTime = 4 * time.Second
	pingTime  = 20 * time.Second // after two of them a connection that is dead is known for it
)

// Connection is the way to a hub for the time of one run. It is used by one goroutine at a time.
type Connection struct {
	// Later leaves the answers of open visits for a later exchange, as a Folder does.
	Later bool
	// Gently takes in a segment a transaction, and leaves as much time between two as one took.
	Gently bool

	name   string // by which the record remembers it
	urls   []string
	pinned *tls.Config
	now    func() time.Time
	wake   func()

	nc      *nats.Conn
	replies *nats.Subscription
	inbox   string
	asked   int
	fresh   bool // what was kept aside was not tried since the connection
	mu      sync.Mutex
	said    error // what the server said outside of any answer
}

// New is the hub that a practice names. Wake, where it is not nil, is called when another
// laptop sent something; it must not wait.
func New(at roster.Hub, now func() time.Time, wake func()) (*Connection, error) {
	urls, err := servers(at.Address)
	if err != nil {
		return nil, err
	}
	pinned, der, err := pin([]byte(at.Certificate), now)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(der)
	return &Connection{name: fmt.Sprintf("%x", sum[:8]), urls: urls, pinned: pinned, now: now, wake: wake}, nil
}

// Check says whether a hub can be what a practice names.
func Check(at roster.Hub) error {
	_, err := New(at, func() time.Time { return time.Time{} }, nil)
	return err
}

// servers takes an address apart: one host:port, or several with commas.
func servers(address string) (urls []string, err error) {
	for one := range strings.SplitSeq(address, ",") {
		host, port, err := net.SplitHostPort(strings.TrimSpace(one))
		if err != nil || host == "" || port == "" || strings.ContainsAny(host, "/@?# ") {
			return nil, fmt.Errorf("%.100q is no address of a hub: write host:port, such as hub.example.org:4222", one)
		}
		urls = append(urls, "tls://"+net.JoinHostPort(host, port))
	}
	return urls, nil
}

// KeyName is a laptop's key as it stands in subjects: as nkeys writes a user's key.
func KeyName(key ed25519.PublicKey) string {
	name, err := nkeys.Encode(nkeys.PrefixByteUser, key)
	if err != nil {
		panic(err) // the prefix is a constant
	}
	return string(name)
}

// Inbox is what the subjects of answers to a laptop begin with.
func Inbox(key ed25519.PublicKey) string { return "_INBOX_" + KeyName(key) }

// connect makes sure that there is a connection. In the background it does not wait for one
// that is lost and that the library is making again; a person who asks has it made at once.
func (h *Connection) connect(ctx context.Context, r Record, practice string) error {
	if h.nc != nil && !h.nc.IsClosed() {
		if h.nc.IsConnected() {
			return nil
		}
		if h.Gently {
			return h.explain(nats.ErrConnectionReconnecting)
		}
	}
	key := r.Key()
	if key == nil {
		return errors.New("this laptop has no key: nothing was exchanged")
	}
	h.Close()
	d := &dialer{}
	d.until(ctx)
	defer d.until(context.Background())
	nc, err := nats.Connect(strings.Join(h.urls, ","),
		nats.Nkey(KeyName(key), r.SignNonce), nats.Secure(h.pinned), nats.CustomInboxPrefix(Inbox(key)),
		nats.MaxReconnects(-1), nats.ReconnectBufSize(-1), nats.IgnoreDiscoveredServers(),
		nats.SetCustomDialer(d), nats.Timeout(dialTime), nats.PingInterval(pingTime),
		nats.ErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) { h.note(err) }), // without one it writes to the terminal
		nats.DisconnectErrHandler(func(_ *nats.Conn, err error) { h.note(err) }),
		nats.ReconnectHandler(func(*nats.Conn) { h.call() }),
	)
	if err != nil {
		return h.explain(err)
	}
	h.nc, h.inbox, h.fresh = nc, nc.NewRespInbox(), true
	if h.replies, err = nc.SubscribeSync(h.inbox + ".*"); err == nil && h.wake != nil {
		own := "." + KeyName(key) + "."
		_, err = nc.Subscribe("new.v1."+practice+".>", func(m *nats.Msg) {
			if !strings.Contains(m.Subject, own) {
				h.call()
			}
		})
	}
	if err != nil {
		h.Close()
		return h.explain(err)
	}
	return nil
}

// dialer dials until the exchange that needs the connection ends; later, when the library
// makes a lost connection again, nobody waits for it.
type dialer struct {
	mu  sync.Mutex
	ctx context.Context // of the exchange that connects
}

func (d *dialer) until(ctx context.Context) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.ctx = ctx
}

// Dial is what the library calls.
func (d *dialer) Dial(network, address string) (net.Conn, error) {
	d.mu.Lock()
	ctx := d.ctx
	d.mu.Unlock()
	return (&net.Dialer{Timeout: dialTime}).DialContext(ctx, network, address)
}

// Close lets the connection go.
func (h *Connection) Close() {
	if h.nc != nil {
		h.nc.Close()
	}
	h.nc, h.replies = nil, nil
}

func (h *Connection) call() {
	if h.wake != nil {
		h.wake()
	}
}

// note remembers what the server said outside of any answer, such as that a subject is
// forbidden; last tells it once.
func (h *Connection) note(err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if err != nil {
		h.said = err
	}
}

func (h *Connection) last() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	err := h.said
	h.said = nil
	return err
}

// explain says to a person why a hub was not reached.
func (h *Connection) explain(err error) error {
	var unknown x509.UnknownAuthorityError
	var name x509.HostnameError
	said := h.last()
	switch {
	case errors.Is(err, context.Canceled):
		return err
	case errors.Is(err, nats.ErrAuthorization), errors.Is(said, nats.ErrAuthorization), errors.Is(err, nats.ErrAuthExpired):
		return fmt.Errorf("%w; its lines are kept here. Somebody must let it in: loosebox share admit (%w)", ErrRefused, err)
	case errors.As(err, &unknown), errors.As(err, &name):
		return fmt.Errorf("%w: nothing was sent to it. Ask who runs the hub (%w)", ErrForeign, err)
	case said != nil:
		err = fmt.Errorf("%w; %w", err, said)
	}
	return fmt.Errorf("%w now; lines are kept here and go out later (%w)", ErrAway, err)
}
