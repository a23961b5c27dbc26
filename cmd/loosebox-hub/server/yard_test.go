package server_test

import (
	"context"
	"crypto/sha256"
	"encoding/pem"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// yard is a practice with its hub.
type yard struct {
	t        testing.TB
	practice *trial.Practice
	dir      string // of the hub
	file     string // the practice's
	at       string // host:port, the same after a restart
	server   *server.Server
	bytes    int64
	now      func() time.Time

	mates []*mate

	mu   sync.Mutex
	says []string
}

func newYard(t testing.TB) *yard {
	t.Helper()
	p, err := trial.NewPractice("Harrow Yard")
	require.NoError(t, err)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	y := &yard{t: t, practice: p, dir: filepath.Join(t.TempDir(), "hub"), file: filepath.Join(t.TempDir(), "practice.txt"), at: l.Addr().String(), bytes: 1 << 30, now: time.Now}
	require.NoError(t, l.Close())
	return y
}

// open is a yard whose hub runs, with some laptops in it.
func open(t testing.TB, names ...string) (*yard, []*mate) {
	y := newYard(t)
	var list []*mate
	for _, name := range names {
		list = append(list, y.laptop(name))
	}
	for _, m := range list {
		require.NoError(t, m.Join(y.practice))
	}
	y.start()
	return y, list
}

func (y *yard) start() {
	y.t.Helper()
	require.NoError(y.t, y.practice.Write(y.file))
	s, err := server.Start(context.Background(), server.Options{
		Dir: y.dir, Practice: y.file, Listen: y.at, MaxBytes: y.bytes, Now: y.now, Say: y.say,
	})
	require.NoError(y.t, err)
	y.server = s
	y.t.Cleanup(func() { y.stop() })
}

func (y *yard) say(text string) {
	y.mu.Lock()
	defer y.mu.Unlock()
	y.says = append(y.says, text)
}

// told is what the hub said to whoever runs it.
func (y *yard) told() []string {
	y.mu.Lock()
	defer y.mu.Unlock()
	return slices.Clone(y.says)
}

// again stops the hub, does something to its disk and starts it; no laptop waits to
// connect again.
func (y *yard) again(do func()) {
	y.t.Helper()
	for _, m := range y.mates {
		m.leave()
	}
	y.stop()
	do()
	y.start()
}

func (y *yard) stop() {
	if y.server != nil {
		y.server.Close()
	}
	y.server = nil
}

// saved copies what the hub has on its disk, which put brings back.
func (y *yard) saved() string {
	y.t.Helper()
	to := filepath.Join(y.t.TempDir(), "copy")
	y.again(func() { require.NoError(y.t, os.CopyFS(to, os.DirFS(y.dir))) })
	return to
}

func (y *yard) put(copied string) {
	y.t.Helper()
	y.again(func() {
		require.NoError(y.t, os.RemoveAll(y.dir))
		require.NoError(y.t, os.CopyFS(y.dir, os.DirFS(copied)))
	})
}

// emptied takes everything from the hub but its certificate.
func (y *yard) emptied() {
	y.t.Helper()
	y.again(func() { require.NoError(y.t, os.RemoveAll(filepath.Join(y.dir, "js"))) })
}

func (y *yard) named() roster.Hub { return roster.Hub{Address: y.at, Certificate: y.cert()} }

func (y *yard) cert() string {
	text, err := os.ReadFile(filepath.Join(y.dir, server.CertificateName))
	require.NoError(y.t, err)
	return string(text)
}

// mate is a laptop and its connection.
type mate struct {
	*trial.Laptop
	t   testing.TB
	y   *yard
	hub *hub.Connection
}

// laptop is a new one that the practice lets in.
func (y *yard) laptop(name string) *mate {
	y.t.Helper()
	m := y.stranger(name, y.t.TempDir())
	require.NoError(y.t, y.practice.Admit(m.Key(), name))
	require.NoError(y.t, m.Join(y.practice))
	return m
}

func (y *yard) stranger(name, dir string) *mate {
	y.t.Helper()
	l, err := trial.Open(name, dir)
	require.NoError(y.t, err)
	m := &mate{Laptop: l, t: y.t, y: y}
	y.mates = append(y.mates, m)
	y.t.Cleanup(func() {
		m.leave()
		_ = m.Close()
	})
	return m
}

// twins are a laptop and a copy of its disk, on both of which somebody wrote.
func (y *yard) twins(of *mate) (one, two *mate) {
	y.t.Helper()
	of.leave()
	require.NoError(y.t, of.Close())
	dir := y.t.TempDir() + "/twin"
	require.NoError(y.t, trial.Copy(of.Dir, dir))
	one, two = y.stranger(of.Name, of.Dir), y.stranger("twin", dir)
	one.examine(3)
	two.examine(4)
	return one, two
}

func (m *mate) leave() {
	if m.hub != nil {
		m.hub.Close()
	}
	m.hub = nil
}

// patience is how long a test waits for what must come: a machine that is busy makes it slow, not red.
const patience = 5 * time.Minute

// try exchanges once; share exchanges and asks for no complaint.
func (m *mate) try() (share.Result, error) {
	m.t.Helper()
	if m.hub == nil {
		h, err := hub.New(m.y.named(), time.Now, nil)
		require.NoError(m.t, err)
		m.hub = h
	}
	ctx, stop := context.WithTimeout(context.Background(), patience)
	defer stop()
	var done share.Result
	var err error
	for ctx.Err() == nil { // the hub may just have begun
		done, err = m.hub.Exchange(ctx, m)
		if err == nil || !isAway(err) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	return done, err
}

func (m *mate) share() share.Result {
	m.t.Helper()
	done, err := m.try()
	require.NoError(m.t, err, m.Name)
	require.NoError(m.t, done.Unwritten, m.Name)
	require.Zero(m.t, done.Waiting, m.Name)
	return done
}

func (m *mate) examine(findings int) {
	m.t.Helper()
	_, err := m.Examine(findings)
	require.NoError(m.t, err)
}

func (m *mate) held() string {
	m.t.Helper()
	text, err := m.Held()
	require.NoError(m.t, err)
	return text
}

func (m *mate) sound() {
	m.t.Helper()
	report, err := m.Check(context.Background())
	require.NoError(m.t, err)
	require.True(m.t, report.OK, "%s: %v", m.Name, report.Broken)
	require.Zero(m.t, report.Waiting, m.Name)
}

// same asks that all records are whole and hold the same.
func same(list ...*mate) {
	for _, m := range list {
		m.t.Helper()
		m.sound()
		require.Equal(m.t, list[0].held(), m.held(), "%s and %s", list[0].Name, m.Name)
	}
}

// messages is how many messages the hub has.
func (y *yard) messages() int {
	n, err := y.server.Messages(context.Background())
	require.NoError(y.t, err)
	return n
}

// note is what a laptop remembers of the hub; putNote puts it back, as a crash does.
func (m *mate) note() []byte {
	m.t.Helper()
	data, err := m.HubNote(m.y.name())
	require.NoError(m.t, err)
	return data
}

func (m *mate) putNote(data []byte) {
	m.t.Helper()
	_, err := m.AdoptFrom(m.y.name(), nil, func(storage.Adopted, func(signedlog.ID, signedlog.RecordRef) ([]storage.LogBranch, error)) ([]byte, error) {
		return data, nil
	})
	require.NoError(m.t, err)
}

func (y *yard) name() string {
	block, _ := pem.Decode([]byte(y.cert()))
	sum := sha256.Sum256(block.Bytes)
	return fmt.Sprintf("%x", sum[:8])
}

// dial is a bare connection with a laptop's key.
func (y *yard) dial(m *mate) *nats.Conn {
	y.t.Helper()
	pinned, urls, err := hub.Pinned(y.named(), time.Now)
	require.NoError(y.t, err)
	nc, err := nats.Connect(urls[0], nats.Nkey(hub.KeyName(m.Key()), m.SignNonce), nats.Secure(pinned),
		nats.CustomInboxPrefix(hub.Inbox(m.Key())), nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {}))
	require.NoError(y.t, err)
	y.t.Cleanup(nc.Close)
	return nc
}

// last is the newest message of a subject, as a laptop reads it.
func (y *yard) last(m *mate, subject string) string {
	y.t.Helper()
	back, err := y.dial(m).Request("$JS.API.DIRECT.GET."+hub.Stream(y.practice.Practice.ID()), []byte(`{"last_by_subj":"`+subject+`"}`), 2*time.Second)
	require.NoError(y.t, err)
	return string(back.Data)
}

// adopt takes in everything that another laptop holds, as by a stick.
func (m *mate) adopt(from *mate) error {
	_, err := m.Adopt(context.Background(), func(take func(signedlog.Segment) error) error {
		return from.Segments(context.Background(), take)
	})
	return err
}
