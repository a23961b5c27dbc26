package server_test

import (
	"bytes"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// asks sends a request to join to the hub, or with an empty text asks for the answer.
func (m *mate) asks(text []byte) []byte {
	m.t.Helper()
	answer, err := hub.Ask(m.t.Context(), m.y.at, m, text)
	require.NoError(m.t, err)
	return answer
}

func (m *mate) request() []byte {
	m.t.Helper()
	text, _, err := m.Request(m.Name)
	require.NoError(m.t, err)
	return text
}

// A laptop comes in by the hub alone: it asks there, a laptop of the practice sees the request
// and lets it in, and the laptop hears the answer. Nobody else gets one.
func TestALaptopComesInByTheHubAlone(t *testing.T) {
	y, l := open(t, "ann")
	ann := l[0]
	ann.examine(2)
	ann.share()
	bea, eve := y.stranger("bea", t.TempDir()), y.stranger("eve", t.TempDir())
	assert.Nil(t, bea.asks(nil), "nobody heard of it")
	list, err := ann.hub.Asked(t.Context(), ann)
	require.NoError(t, err)
	assert.Empty(t, list)
	assert.Nil(t, bea.asks(bea.request()))
	assert.Nil(t, bea.asks(bea.request()), "twice is once")
	assert.Nil(t, eve.asks(eve.request()))
	list, err = ann.hub.Asked(t.Context(), ann)
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "bea", list[0].Name)
	assert.True(t, list[0].Key.Equal(bea.Key()))
	_, words, err := bea.Request("bea")
	require.NoError(t, err)
	assert.Equal(t, words, list[0].Words(), "as bea reads them aloud")

	require.NoError(t, y.practice.Admit(list[0].Key, list[0].Name))
	require.NoError(t, ann.Join(y.practice))
	assert.Nil(t, bea.asks(nil), "the hub does not know it yet")
	ann.share()
	answer, err := roster.ReadAnswer(bea.asks(nil))
	require.NoError(t, err)
	assert.Equal(t, y.practice.Practice.Words(), answer.Practice.Words())
	assert.Equal(t, roster.In, answer.Membership(bea.Key()))
	_, err = bea.TakeStatements(t.Context(), answer.Said)
	require.NoError(t, err)
	bea.share()
	same(ann, bea)
	assert.Nil(t, eve.asks(nil))
	list, err = ann.hub.Asked(t.Context(), ann)
	require.NoError(t, err)
	assert.Len(t, list, 1, "bea is in")
	require.NoError(t, eve.Join(y.practice))
	_, err = eve.try()
	require.ErrorIs(t, err, hub.ErrRefused, "a guest is no laptop of the practice")
}

// A guest may ask, and nothing else: it reads no line, writes none, and hears of no other.
func TestWhatAGuestMayNotDo(t *testing.T) {
	y, l := open(t, "ann")
	l[0].examine(2)
	l[0].share()
	before := y.messages()
	s := y.stranger("stranger", t.TempDir())
	pinned, urls, err := hub.Pinned(y.named(), time.Now)
	require.NoError(t, err)
	said := make(chan error, 16)
	nc, err := nats.Connect(urls[0], nats.Name(hub.GuestName), nats.Nkey(hub.KeyName(s.Key()), s.SignNonce), nats.Secure(pinned),
		nats.CustomInboxPrefix(hub.Inbox(s.Key())), nats.ErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) { said <- err }))
	require.NoError(t, err)
	defer nc.Close()
	refused := func(what string) {
		t.Helper()
		select {
		case err := <-said:
			require.ErrorIs(t, err, nats.ErrPermissionViolation, what)
		case <-time.After(patience):
			require.Fail(t, "it was not refused", what)
		}
	}
	id, key, ann := y.practice.Practice.ID(), hub.KeyName(s.Key()), hub.KeyName(l[0].Key())
	for _, subject := range []string{
		"log.v1." + id + "." + key + ".00", "carry.v1." + id + "." + key + ".roster", "$JS.API.DIRECT.GET." + hub.Stream(id),
		hub.AskSubject(ann), hub.AskedSubject(id), "_INBOX_" + ann + ".x", "$SYS.REQ.SERVER.PING",
	} {
		require.NoError(t, nc.Publish(subject, nil))
		refused("publish " + subject)
	}
	for _, subject := range []string{">", "ask.v1.>", "new.v1." + id + ".>", "_INBOX_" + ann + ".>", "log.v1." + id + ".>"} {
		_, err := nc.SubscribeSync(subject)
		require.NoError(t, err)
		refused("subscribe " + subject)
	}
	assert.Equal(t, before, y.messages())
	// Nor does a guest with the name of another laptop but without its key.
	_, err = nats.Connect(urls[0], nats.Name(hub.GuestName), nats.Nkey(ann, s.SignNonce), nats.Secure(pinned))
	require.ErrorIs(t, err, nats.ErrAuthorization)
}

// What guests leave at the hub is bounded: few requests, small ones, of their own key, and
// none for ever; a guest that stays is seen off.
func TestGuestsAreBounded(t *testing.T) {
	y := newYard(t)
	var ahead atomic.Int64
	y.now = func() time.Time { return time.Now().Add(time.Duration(ahead.Load())) }
	ann := y.laptop("ann")
	y.start()
	ann.share()
	first, second := y.stranger("first", t.TempDir()), y.stranger("second", t.TempDir())
	for what, text := range map[string][]byte{"another's": second.request(), "junk": []byte("x"), "long": bytes.Repeat([]byte("x"), 65<<10)} {
		_, err := hub.Ask(t.Context(), y.at, first, text)
		require.ErrorContains(t, err, "request", what)
	}
	assert.Nil(t, first.asks(first.request()))
	for range 7 {
		s := y.stranger("another", t.TempDir())
		assert.Nil(t, s.asks(s.request()))
	}
	_, err := hub.Ask(t.Context(), y.at, second, second.request())
	require.ErrorContains(t, err, "too many laptops ask at this hub now")
	ahead.Store(int64(11 * time.Minute))
	assert.Nil(t, second.asks(second.request()), "it takes the place of the oldest")
	list, err := ann.hub.Asked(t.Context(), ann)
	require.NoError(t, err)
	require.Len(t, list, 8)
	assert.Equal(t, "second", list[7].Name)
	ahead.Store(int64(25 * time.Hour))
	list, err = ann.hub.Asked(t.Context(), ann)
	require.NoError(t, err)
	assert.Empty(t, list)

	pinned, urls, err := hub.Pinned(y.named(), time.Now)
	require.NoError(t, err)
	gone := make(chan struct{})
	nc, err := nats.Connect(urls[0], nats.Name(hub.GuestName), nats.Nkey(hub.KeyName(first.Key()), first.SignNonce), nats.Secure(pinned),
		nats.NoReconnect(), nats.ClosedHandler(func(*nats.Conn) { close(gone) }))
	require.NoError(t, err)
	defer nc.Close()
	ahead.Add(int64(2 * time.Minute))
	select {
	case <-gone:
	case <-time.After(patience):
		require.Fail(t, "the guest was not seen off")
	}
}
