package server_test

import (
	"crypto/tls"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	natsserver "github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/server"
	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// refusing is a bare connection of a laptop that collects what the hub refuses.
func (y *yard) refusing(m *mate) (*nats.Conn, func(what string)) {
	nc := y.dial(m)
	said := make(chan error, 16)
	nc.SetErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) { said <- err })
	return nc, func(what string) {
		y.t.Helper()
		select {
		case err := <-said:
			assert.ErrorIs(y.t, err, nats.ErrPermissionViolation, what)
		case <-time.After(patience):
			assert.Fail(y.t, "it was not refused", what)
		}
	}
}

// What a laptop may not do: the table of "Who may what".
func TestWhatALaptopMayNotDo(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(2)
	l[0].share()
	id, stream := y.practice.Practice.ID(), hub.Stream(y.practice.Practice.ID())
	ann, bea := hub.KeyName(l[0].Key()), hub.KeyName(l[1].Key())
	before := y.messages()
	nc, refused := y.refusing(l[1])
	for _, subject := range []string{
		"log.v1." + id + "." + ann + ".00", "carry.v1." + id + "." + ann + ".roster", "log.v1.other." + bea + ".00",
		"new.v1." + id + ".log", "_INBOX_" + ann + ".x",
		"$JS.API.STREAM.INFO." + stream, "$JS.API.STREAM.PURGE." + stream, "$JS.API.STREAM.DELETE." + stream, "$JS.API.STREAM.UPDATE." + stream,
		"$JS.API.STREAM.MSG.DELETE." + stream, "$JS.API.STREAM.MSG.GET." + stream, "$JS.API.STREAM.CREATE.OTHER",
		"$JS.API.CONSUMER.CREATE." + stream, "$JS.API.INFO", "$JS.API.STREAM.SNAPSHOT." + stream, "$JS.API.STREAM.RESTORE." + stream,
		"$SYS.REQ.SERVER.PING", "$SYS.REQ.ACCOUNT.PING.CONNZ", "anything",
	} {
		require.NoError(t, nc.Publish(subject, []byte(`{}`)))
		refused("publish " + subject)
	}
	for _, subject := range []string{">", "$SYS.>", "$JS.>", "_INBOX.>", "_INBOX_" + ann + ".>", "log.v1." + id + ".>", "carry.v1." + id + ".>", "new.v1.other.>"} {
		_, err := nc.SubscribeSync(subject)
		require.NoError(t, err)
		refused("subscribe " + subject)
	}
	assert.Equal(t, before, y.messages())
	l[1].share()
	same(l...)
}

// Nobody deletes: neither who runs the server, by its interface, nor by another configuration.
func TestNothingIsDeleted(t *testing.T) {
	y, l := open(t, "ann")
	l[0].examine(2)
	l[0].share()
	nc, err := y.server.Inside()
	require.NoError(t, err)
	stream := hub.Stream(y.practice.Practice.ID())
	code := func(subject, body string) (n int) {
		back, err := nc.Request(subject, []byte(body), patience)
		require.NoError(t, err)
		var r struct {
			Error struct {
				Code int `json:"err_code"`
			} `json:"error"`
		}
		require.NoError(t, json.Unmarshal(back.Data, &r))
		return r.Error.Code
	}
	// Error codes by nats-server v2.15.3, server/errors.json.
	assert.Equal(t, 10110, code("$JS.API.STREAM.PURGE."+stream, `{}`), "purge")
	assert.Equal(t, 10057, code("$JS.API.STREAM.MSG.DELETE."+stream, `{"seq":1}`), "delete a message")
	back, err := nc.Request("$JS.API.STREAM.INFO."+stream, nil, patience)
	require.NoError(t, err)
	var info struct {
		Config map[string]any `json:"config"`
	}
	require.NoError(t, json.Unmarshal(back.Data, &info))
	for _, guard := range []string{"deny_delete", "deny_purge"} {
		require.Equal(t, true, info.Config[guard])
		info.Config[guard] = false
		body, err := json.Marshal(info.Config)
		require.NoError(t, err)
		assert.Equal(t, 10052, code("$JS.API.STREAM.UPDATE."+stream, string(body)), guard)
		info.Config[guard] = true
	}
}

// The hub refuses a stranger, a name without its key, and a connection without a name.
func TestAStrangerDoesNotComeIn(t *testing.T) {
	y, l := open(t, "ann")
	s := y.stranger("stranger", t.TempDir())
	require.NoError(t, s.Join(y.practice)) // it has the practice's file, and nobody let it in
	_, err := s.try()
	require.ErrorIs(t, err, hub.ErrRefused)
	assert.Contains(t, y.told(), "a laptop was refused that nobody let in: key "+signedlog.Fingerprint(s.Key()))
	pinned, urls, err := hub.Pinned(y.named(), time.Now)
	require.NoError(t, err)
	for name, o := range map[string]nats.Option{
		"another's name":  nats.Nkey(hub.KeyName(l[0].Key()), s.SignNonce),
		"no key":          nats.Name("x"),
		"user":            nats.UserInfo("hub", ""),
		"user and secret": nats.UserInfo("hub", "hub"),
		"token":           nats.Token("hub"),
	} {
		_, err := nats.Connect(urls[0], nats.Secure(pinned), o)
		require.ErrorIs(t, err, nats.ErrAuthorization, name)
	}
	// Let in, it comes in, without a restart: another laptop brings the statement.
	require.NoError(t, y.practice.Admit(s.Key(), "stranger"))
	require.NoError(t, l[0].Join(y.practice))
	l[0].share()
	s.leave()
	require.NoError(t, s.Join(y.practice))
	s.share()
	same(l[0], s)
}

// A laptop that is let in by the practice's file comes in without a restart, also where the file has the time of the one
// before: a change within one tick of the disk's clock was never read.
func TestTheFileIsReadAgain(t *testing.T) {
	t.Parallel()
	for _, sameTime := range []bool{false, true} {
		y, l := open(t, "ann")
		before, err := os.Stat(y.file)
		require.NoError(t, err)
		s := y.stranger("new", t.TempDir())
		require.NoError(t, y.practice.Admit(s.Key(), "new"))
		require.NoError(t, s.Join(y.practice))
		require.NoError(t, y.practice.Write(y.file))
		if sameTime {
			require.NoError(t, os.Chtimes(y.file, before.ModTime(), before.ModTime()))
		}
		require.Eventually(t, func() bool {
			s.leave()
			_, err := s.try()
			return err == nil
		}, patience, 100*time.Millisecond)
		l[0].share()
		s.share()
		same(l[0], s)
	}
}

// A file that cannot be read, or is of another practice, is said once and changes nothing; what replaces it is read.
func TestAnUnreadableFileIsSaidOnce(t *testing.T) {
	t.Parallel()
	y, l := open(t, "ann")
	told := func(part string) (n int) {
		for _, text := range y.told() {
			if strings.Contains(text, part) {
				n++
			}
		}
		return n
	}
	comes := func(part string) {
		t.Helper()
		require.Eventually(t, func() bool { return told(part) > 0 }, patience, 50*time.Millisecond)
	}
	const unreadable, foreign = "cannot be read", "this hub is of"
	require.NoError(t, os.WriteFile(y.file, y.practice.Answer()[:40], 0o600))
	comes(unreadable)
	other, err := trial.NewPractice("Thornbury Vale")
	require.NoError(t, err)
	require.NoError(t, other.Admit(l[0].Key(), "ann"))
	require.NoError(t, other.Write(y.file))
	comes(foreign)
	time.Sleep(5 * time.Second) // it is read every two
	l[0].share()
	s := y.laptop("new")
	require.NoError(t, y.practice.Write(y.file))
	comes("laptops in the practice: 2")
	s.share()
	require.Equal(t, 1, told(unreadable))
	require.Equal(t, 1, told(foreign))
}

// TLS 1.2 is refused, and so is a hub that shows another certificate: nothing is sent to it.
func TestTLS(t *testing.T) {
	y, l := open(t, "ann")
	pinned, urls, err := hub.Pinned(y.named(), time.Now)
	require.NoError(t, err)
	old := pinned.Clone()
	old.MinVersion, old.MaxVersion = tls.VersionTLS12, tls.VersionTLS12
	_, err = nats.Connect(urls[0], nats.Nkey(hub.KeyName(l[0].Key()), l[0].SignNonce), nats.Secure(old))
	require.ErrorContains(t, err, "protocol version")
	_, err = nats.Connect(strings.Replace(urls[0], "tls:", "nats:", 1), nats.Nkey(hub.KeyName(l[0].Key()), l[0].SignNonce))
	require.Error(t, err, "without any")

	other := newYard(t)
	require.NoError(t, other.practice.Admit(l[0].Key(), "ann"))
	other.start()
	h, err := hub.New(roster.Hub{Address: other.at, Certificate: y.cert()}, time.Now, nil)
	require.NoError(t, err)
	_, err = h.Exchange(t.Context(), l[0])
	require.ErrorIs(t, err, hub.ErrForeign)
}

// A wrong clock keeps no laptop from its hub.
func TestAWrongClock(t *testing.T) {
	y, l := open(t, "ann")
	for _, year := range []int{1970, 2026, 2099} {
		h, err := hub.New(y.named(), func() time.Time { return time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC) }, nil)
		require.NoError(t, err)
		_, err = h.Exchange(t.Context(), l[0])
		require.NoError(t, err, year)
		h.Close()
	}
}

// A laptop that is taken out is cut off at once, and does not come in again.
func TestALaptopThatIsOutIsCutOff(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].share()
	l[1].examine(2)
	l[1].share()
	l[0].share()
	gone := make(chan struct{}, 8)
	nc := y.dial(l[1])
	nc.SetDisconnectErrHandler(func(*nats.Conn, error) { gone <- struct{}{} })
	require.NoError(t, y.practice.End(l[1].Laptop, l[0].Laptop))
	require.NoError(t, l[0].Join(y.practice))
	l[0].share()
	select {
	case <-gone:
	case <-time.After(patience):
		require.Fail(t, "it was not cut off")
	}
	l[1].leave()
	l[1].examine(1)
	_, err := l[1].try()
	require.ErrorIs(t, err, hub.ErrRefused)
	assert.Contains(t, y.told(), `the laptop bea was refused: in the practice it is "out"`)
	require.NoError(t, l[1].Join(y.practice))
	_, err = l[1].try()
	require.ErrorIs(t, err, share.ErrNotIn)
	// A stick brings what it wrote since to ann: it is kept apart, and ann carries it.
	require.NoError(t, l[0].adopt(l[1]))
	assert.Equal(t, 4, l[0].share().Lines)
	cal := y.laptop("cal")
	require.NoError(t, l[0].Join(y.practice))
	l[0].share()
	cal.share()
	same(l[0], cal)
	apart, err := cal.Apart()
	require.NoError(t, err)
	assert.Len(t, apart, 1)
}

// A copied disk connects as the same laptop: the server has no sign of it at connecting.
func TestACopiedDiskConnectsBesideTheFirst(t *testing.T) {
	y, l := open(t, "ann")
	l[0].examine(1)
	l[0].leave()
	require.NoError(t, l[0].Close())
	dir := filepath.Join(t.TempDir(), "twin")
	require.NoError(t, trial.Copy(l[0].Dir, dir))
	one, two := y.stranger("ann", l[0].Dir), y.stranger("twin", dir)
	one.share()
	two.share()
	same(one, two)
}

// A hub that asks for something else than a nonce to be signed gets no signature: it could
// be a line of a log.
func TestAHubCannotHaveLinesSigned(t *testing.T) {
	_, l := open(t, "ann")
	for _, ask := range []string{"loosebox/signed/1\x00aaaaaaaaaaaaaaaa", "short", "", strings.Repeat("a", 65), "with space", "loosebox/roster/1\x00{}"} {
		_, err := l[0].SignNonce([]byte(ask))
		require.Error(t, err, "%q", ask)
	}
}

// The server warns before it is full.
func TestTheHubWarns(t *testing.T) {
	y := newYard(t)
	ann := y.laptop("ann")
	y.bytes = 30 << 10
	y.start()
	for range 400 {
		ann.examine(20)
		done, err := ann.try()
		require.NoError(t, err)
		used, most, err := y.server.Size(t.Context())
		require.NoError(t, err)
		if done.Unwritten != nil || used*100/most >= 80 {
			break
		}
	}
	y.again(func() {}) // it looks at its start, and each minute
	require.Eventually(t, func() bool {
		y.mu.Lock()
		defer y.mu.Unlock()
		return strings.Contains(fmt.Sprint(y.says), "% full")
	}, patience, 20*time.Millisecond)
}

// The configuration for a stock nats-server holds: the same client, the same permissions.
func TestAStockServer(t *testing.T) {
	y := newYard(t)
	ann, bea := y.laptop("ann"), y.laptop("bea")
	require.NoError(t, ann.Join(y.practice))
	require.NoError(t, y.practice.Write(y.file))
	conf := filepath.Join(t.TempDir(), "hub.conf")
	o := server.Options{Dir: y.dir, Practice: y.file, Listen: y.at, MaxBytes: 1 << 30, Now: time.Now, Say: y.say}
	require.NoError(t, server.WriteConf(o, conf, 1))
	opts, err := natsserver.ProcessConfigFile(conf)
	require.NoError(t, err)
	opts.NoSigs, opts.NoLog = true, true
	ns, err := natsserver.NewServer(opts)
	require.NoError(t, err)
	ns.Start()
	defer ns.WaitForShutdown()
	defer ns.Shutdown()
	require.True(t, ns.ReadyForConnections(10*time.Second))
	assert.True(t, opts.SyncAlways)
	require.NoError(t, server.MakeStreamAt(t.Context(), o, y.at, 1))
	ann.examine(4)
	bea.examine(2)
	ann.share()
	bea.share()
	ann.share()
	same(ann, bea)
	nc, refused := y.refusing(bea)
	require.NoError(t, nc.Publish("log.v1."+y.practice.Practice.ID()+"."+hub.KeyName(ann.Key())+".00", nil))
	refused("another's log")

	// A laptop that comes in later: the file is written again, and the server reads it.
	cal := y.laptop("cal")
	_, err = cal.try()
	require.ErrorIs(t, err, hub.ErrRefused)
	cal.leave()
	require.NoError(t, y.practice.Write(y.file))
	require.NoError(t, server.WriteConf(o, conf, 1))
	require.NoError(t, ns.Reload())
	cal.share()
	same(ann, cal)
}

// The practice moves to another hub: another certificate, at the same address. A laptop that
// knows the first one alone sends nothing there and says why; once it has learned of the new
// one, everything goes there, other laptops' lines too, and the first one counts again when
// the practice goes back to it.
func TestThePracticeMovesToAnotherHub(t *testing.T) {
	y, l := open(t, "ann", "bea")
	ann, bea := l[0], l[1]
	ann.examine(3)
	ann.share()
	bea.share()
	bea.examine(2)
	bea.share()
	ann.share()
	require.NoError(t, bea.Close()) // bea is lost
	first := y.dir
	y.again(func() { y.dir = filepath.Join(t.TempDir(), "second") })
	old, err := os.ReadFile(filepath.Join(first, server.CertificateName))
	require.NoError(t, err)
	h, err := hub.New(roster.Hub{Address: y.at, Certificate: string(old)}, time.Now, nil)
	require.NoError(t, err)
	_, err = h.Exchange(t.Context(), ann)
	require.ErrorIs(t, err, hub.ErrForeign)
	require.ErrorContains(t, err, "nothing was sent to it. Ask who runs the hub")
	assert.Equal(t, 0, y.messages())

	ann.share()
	cal := y.laptop("cal")
	y.again(func() {})
	cal.share()
	same(ann, cal)
	cal.examine(1)
	cal.share()
	y.again(func() { y.dir = first })
	cal.share()
	ann.share()
	same(ann, cal)
}

// Two hubs on one folder would spoil each other's stream: the second one does not start, and
// a hub that was killed leaves nothing that keeps the next one out.
func TestTwoHubsDoNotShareAFolder(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(2)
	l[0].share()
	_, err := server.Start(t.Context(), server.Options{Dir: y.dir, Listen: "127.0.0.1:0", MaxBytes: y.bytes, Now: time.Now, Say: y.say})
	require.ErrorContains(t, err, "another hub uses "+y.dir+": nothing was changed")
	y.again(func() {})
	l[1].share()
	same(l...)
}
