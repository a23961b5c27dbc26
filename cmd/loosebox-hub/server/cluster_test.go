package server_test

import (
	"encoding/json"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/exam/signedlog"
	"loosebox/storage/share/hub"
)

// cluster is three stock servers that are one hub, by the configuration that is written for
// them, filled in as the README says.
type cluster struct {
	t     *testing.T
	confs []string
	all   []*natsserver.Server
}

// free is n addresses at which nobody listens.
func free(t *testing.T, n int) (out []string) {
	t.Helper()
	for range n {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		require.NoError(t, err)
		defer l.Close() //nolint:errcheck // it was only asked for its number
		out = append(out, l.Addr().String())
	}
	return out
}

func (y *yard) cluster(t *testing.T) *cluster {
	t.Helper()
	require.NoError(t, y.practice.Write(y.file))
	clients, routes := free(t, 3), free(t, 3)
	o := server.Options{Dir: y.dir, Practice: y.file, Listen: clients[0], MaxBytes: 64 << 20, Now: time.Now, Say: y.say}
	conf := filepath.Join(t.TempDir(), "hub.conf")
	require.NoError(t, server.WriteConf(o, conf, 3))
	text, err := os.ReadFile(conf)
	require.NoError(t, err)
	c := &cluster{t: t, all: make([]*natsserver.Server, 3)}
	for i := range 3 {
		own := strings.NewReplacer(
			clients[0], clients[i], "_1\"", fmt.Sprintf("_%d\"", i+1), "0.0.0.0:6222", routes[i],
			"routes: []", fmt.Sprintf("routes: [tls://%s, tls://%s]", routes[(i+1)%3], routes[(i+2)%3]),
			filepath.Join(y.dir, "js"), filepath.Join(t.TempDir(), "js"),
		).Replace(string(text))
		c.confs = append(c.confs, filepath.Join(t.TempDir(), "hub.conf"))
		require.NoError(t, os.WriteFile(c.confs[i], []byte(own), 0o600))
		c.start(i)
	}
	t.Cleanup(func() {
		for i := range c.all {
			c.stop(i)
		}
	})
	y.at = strings.Join(clients, ",")
	require.Eventually(t, func() bool { return server.MakeStreamAt(t.Context(), o, y.at, 3) == nil }, time.Minute, 100*time.Millisecond)
	return c
}

func (c *cluster) start(i int) {
	c.t.Helper()
	opts, err := natsserver.ProcessConfigFile(c.confs[i])
	require.NoError(c.t, err)
	opts.NoSigs, opts.NoLog = true, true
	c.all[i], err = natsserver.NewServer(opts)
	require.NoError(c.t, err)
	c.all[i].Start()
	require.True(c.t, c.all[i].ReadyForConnections(20*time.Second))
}

func (c *cluster) stop(i int) {
	if c.all[i] != nil {
		c.all[i].Shutdown()
		c.all[i].WaitForShutdown()
	}
	c.all[i] = nil
}

// leader is the server that leads a stream; -1 while there is none.
func (c *cluster) leader(stream string) int {
	for i, ns := range c.all {
		if ns != nil && ns.JetStreamIsStreamLeader("$G", stream) {
			return i
		}
	}
	return -1
}

// hooked is a laptop that tells of each segment it gives.
type hooked struct {
	*mate
	tell func()
}

func (h hooked) Next(row signedlog.ID, after, upTo uint64) (signedlog.Segment, error) {
	h.tell()
	return h.mate.Next(row, after, upTo)
}

// Three servers are one hub. The one that leads is stopped in the middle of a push, and
// comes back later: nothing is lost, nothing is there twice in a record, all hold the same.
func TestThreeServersAreOneHub(t *testing.T) {
	y := newYard(t)
	ann, bea, cal := y.laptop("ann"), y.laptop("bea"), y.laptop("cal")
	for _, m := range y.mates {
		require.NoError(t, m.Join(y.practice))
	}
	c := y.cluster(t)
	stream := hub.Stream(y.practice.Practice.ID())
	ann.examine(3)
	ann.share()
	bea.share()
	same(ann, bea)

	require.NoError(t, ann.Fill(5000))
	segments, stopped := 0, -1
	stops := hooked{ann, func() {
		if segments++; segments == 4 {
			stopped = c.leader(stream)
			c.stop(max(stopped, 0))
		}
	}}
	h, err := hub.New(y.named(), time.Now, nil)
	require.NoError(t, err)
	ann.hub = h
	done, err := h.Exchange(t.Context(), stops)
	require.NotEqual(t, -1, stopped, "there was a leader")
	assert.GreaterOrEqual(t, segments, 4)
	t.Log("in the middle:", done.Unwritten, err)
	y.settles(ann)
	y.settles(bea)
	same(ann, bea)
	bea.examine(2)
	y.settles(bea)
	c.start(stopped)
	y.settles(cal)
	y.settles(ann)
	y.settles(bea)
	same(ann, bea, cal)
}

// settles exchanges until nothing waits and the hub does not complain: another server leads
// after a while.
func (y *yard) settles(m *mate) {
	y.t.Helper()
	require.Eventually(y.t, func() bool {
		done, err := m.try()
		return err == nil && done.Unwritten == nil && done.Waiting == 0
	}, time.Minute, 50*time.Millisecond)
}

// relay stands between a laptop and the hub, and answers some questions as a server does
// that has nothing yet.
type relay struct {
	mu     sync.Mutex
	asked  []uint64 // from which sequence on
	behind int      // so many of the next answers
}

func (r *relay) take() (asked []uint64) {
	r.mu.Lock()
	defer r.mu.Unlock()
	asked, r.asked = r.asked, nil
	return asked
}

// relays has a second address of the hub whose answers pass through a relay.
func (y *yard) relays() (*relay, string) {
	y.t.Helper()
	at := free(y.t.(*testing.T), 1)[0] //nolint:forcetypeassert // of these tests
	conf := filepath.Join(y.t.TempDir(), "hub.conf")
	require.NoError(y.t, server.WriteConf(server.Options{Dir: y.dir, Practice: y.file, Listen: at, MaxBytes: 1 << 20, Now: time.Now, Say: y.say}, conf, 1))
	opts, err := natsserver.ProcessConfigFile(conf)
	require.NoError(y.t, err)
	opts.NoSigs, opts.NoLog, opts.JetStream = true, true, false
	opts.Users = append(opts.Users, &natsserver.User{Username: "relay", Password: "relay"})
	ns, err := natsserver.NewServer(opts)
	require.NoError(y.t, err)
	ns.Start()
	y.t.Cleanup(func() { ns.Shutdown(); ns.WaitForShutdown() })
	require.True(y.t, ns.ReadyForConnections(20*time.Second))
	front, err := nats.Connect("", nats.InProcessServer(ns), nats.UserInfo("relay", "relay"))
	require.NoError(y.t, err)
	back, err := y.server.Inside()
	require.NoError(y.t, err)
	y.t.Cleanup(func() { front.Close(); back.Close() })
	r := &relay{}
	_, err = front.Subscribe("$JS.API.DIRECT.GET.>", func(m *nats.Msg) {
		var q struct{ Seq uint64 }
		_ = json.Unmarshal(m.Data, &q)
		r.mu.Lock()
		r.asked = append(r.asked, q.Seq)
		behind := r.behind > 0
		r.behind--
		r.mu.Unlock()
		if behind {
			_ = front.PublishMsg(&nats.Msg{Subject: m.Reply, Header: nats.Header{"Status": {"404"}, "Description": {"Message Not Found"}}})
			return
		}
		inbox := back.NewInbox()
		sub, _ := back.Subscribe(inbox, func(a *nats.Msg) {
			_ = front.PublishMsg(&nats.Msg{Subject: m.Reply, Header: a.Header, Data: a.Data})
			if a.Header.Get("Status") != "" {
				_ = a.Sub.Unsubscribe()
			}
		})
		if sub != nil {
			_ = back.PublishRequest(m.Subject, inbox, m.Data)
		}
	})
	require.NoError(y.t, err)
	require.NoError(y.t, front.Flush())
	return r, at
}

// A server of several that is behind is asked again before it is believed that the hub was
// emptied; one that stays so is.
func TestAServerThatIsBehindIsAskedAgain(t *testing.T) {
	y, l := open(t, "ann")
	ann := l[0]
	ann.examine(3)
	ann.share()
	before := ann.note()
	r, at := y.relays()
	ann.leave()
	y.at = at + "," + at
	require.Empty(t, r.take())
	r.behind = 1
	assert.Zero(t, ann.share().Files)
	asked := r.take()
	require.Len(t, asked, 2)
	assert.Equal(t, asked[0], asked[1], "the cursor, twice")
	assert.Equal(t, string(before), string(ann.note()))

	r.behind = 2
	done, err := ann.try()
	require.NoError(t, err)
	assert.Zero(t, done.Came+done.Files+done.Waiting, "it read everything again, and the hub has it")
	again := r.take()
	require.Greater(t, len(again), 2)
	assert.Equal(t, []uint64{asked[0], asked[0], 1}, again[:3])

	ann.leave()
	y.at = at // one server alone is believed at once
	r.behind = 1
	_, err = ann.try()
	require.NoError(t, err)
	assert.Equal(t, []uint64{asked[0], 1}, r.take()[:2])
}
