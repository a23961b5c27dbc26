package server_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam"
	"loosebox/storage/share/hub"
)

func isAway(err error) bool { return errors.Is(err, hub.ErrAway) }

// Three laptops meet, and nothing new is said in one trip and writes nothing.
func TestLaptopsMeetByTheHub(t *testing.T) {
	y, l := open(t, "ann", "bea", "cal")
	for i := range 3 {
		l[0].examine(i + 2)
		l[1].examine(3)
		l[0].share()
		in := l[1].share()
		assert.Equal(t, 1, in.In.Visits)
		assert.Equal(t, i+5, in.Came, "horse, opening, findings, closing")
	}
	l[2].share()
	l[0].share()
	same(l...)
	before := y.messages()
	for _, m := range l {
		done := m.share()
		assert.Zero(t, done.Came+done.Lines+done.Files+done.Broken)
	}
	assert.Equal(t, before, y.messages())
}

// Nothing new is one trip: one message to the hub.
func TestNothingNewIsOneTrip(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(3)
	l[0].share()
	l[1].share()
	l[0].share()
	before, err := y.server.Heard()
	require.NoError(t, err)
	l[0].share()
	after, err := y.server.Heard()
	require.NoError(t, err)
	assert.EqualValues(t, 1, after-before)
}

// A visit that is still open goes along, and what follows goes on from there; in the
// background its lines are left for later.
func TestAnOpenVisitGoesAlong(t *testing.T) {
	_, l := open(t, "ann", "bea")
	v, err := l[0].Begin(2)
	require.NoError(t, err)
	l[0].share()
	for i := range 4 {
		require.NoError(t, l[0].Answer(v, i+2))
		assert.Equal(t, 1, l[0].share().Lines)
		l[1].share()
		same(l...)
	}
	l[0].hub.Later = true
	require.NoError(t, l[0].Answer(v, 9))
	done, err := l[0].try()
	require.NoError(t, err)
	assert.Equal(t, 1, done.Waiting)
	assert.Zero(t, done.Lines)
	l[0].examine(1)
	l[0].share()
	l[1].share()
	same(l...)
}

// A join belongs to no visit: the next background exchange sends it, together with the answers before it in the log.
func TestWhatIsOfNoVisitGoesAtOnce(t *testing.T) {
	_, l := open(t, "ann", "bea")
	ann := l[0]
	ann.examine(1)
	ann.examine(1)
	ann.share()
	h, err := ann.Horses()
	require.NoError(t, err)
	ann.hub.Later = true
	v, err := ann.Begin(2)
	require.NoError(t, err)
	assert.Equal(t, 4, ann.share().Lines, "the horse is of no visit")
	for _, apart := range []bool{false, true} {
		require.NoError(t, ann.Answer(v, 3))
		done, err := ann.try()
		require.NoError(t, err)
		assert.Zero(t, done.Lines)
		assert.Equal(t, 1, done.Waiting)
		require.NoError(t, ann.Record.Join(exam.Joining{Horses: []exam.HorseID{h[0].Horse.ID, h[1].Horse.ID}, Apart: apart, By: "ann", At: time.Now()}))
		assert.Equal(t, 2, ann.share().Lines)
	}
	l[1].share()
	same(l...)
}

// Case: the acknowledgment is lost, or the laptop is killed before it, and wrote more since. The hub refuses the sequence
// that it expects; it then finds its own lines there and goes on after them.
func TestALostAcknowledgment(t *testing.T) {
	y, l := open(t, "ann", "bea")
	ann := l[0]
	ann.examine(3)
	ann.share()
	note := ann.note()
	ann.examine(4)
	assert.Equal(t, 7, ann.share().Lines)
	sent := y.messages()
	ann.putNote(note)
	ann.examine(2)
	assert.Equal(t, 5, ann.share().Lines, "the others are there")
	assert.Equal(t, sent+1, y.messages())
	l[1].share()
	same(ann, l[1])
}

// Case: the same message again. The hub says that it is a duplicate and stores it once.
func TestTheSameMessageAgain(t *testing.T) {
	y, l := open(t, "ann", "bea")
	ann := l[0]
	ann.examine(3)
	ann.share()
	note := ann.note()
	ann.examine(4)
	ann.share()
	sent := y.messages()
	ann.putNote(note)
	assert.Zero(t, ann.share().Lines)
	assert.Equal(t, sent, y.messages())
	ann.putNote([]byte("{}")) // as if the hub had never been read
	assert.Zero(t, ann.share().Lines)
	assert.Equal(t, sent, y.messages())
	l[1].share()
	same(ann, l[1])
}

// Case: the hub is down, and comes back. Lines stay, and go at the next exchange.
func TestTheHubIsDown(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(3)
	l[0].share()
	y.stop()
	l[0].examine(2)
	_, err := l[0].hub.Exchange(context.Background(), l[0])
	require.ErrorIs(t, err, hub.ErrAway)
	fresh := y.stranger("new", t.TempDir())
	require.NoError(t, y.practice.Admit(fresh.Key(), "new"))
	require.NoError(t, fresh.Join(y.practice))
	h, err := hub.New(y.named(), time.Now, nil)
	require.NoError(t, err)
	_, err = h.Exchange(context.Background(), fresh)
	require.ErrorIs(t, err, hub.ErrAway)
	y.start()
	l[0].share()
	l[1].share()
	same(l...)
}

// Case: the hub was emptied, or is a new one, and the writer of some lines is gone. The
// others carry them.
func TestTheHubIsEmptied(t *testing.T) {
	y, l := open(t, "ann", "bea", "cal")
	l[0].examine(3)
	l[0].share()
	l[1].examine(4)
	l[1].share()
	l[0].share()
	ann := l[0].held()
	require.NoError(t, l[1].Close()) // bea is lost
	y.emptied()
	l[0].examine(1)
	l[0].share()
	l[2].share()
	require.NotEqual(t, ann, l[2].held())
	same(l[0], l[2])
	for range 3 { // and again, without any of the writers: cal carries all
		y.emptied()
		l[2].share()
		fresh := y.laptop("new")
		y.again(func() {})
		fresh.share()
		same(l[2], fresh)
		l[0].share()
		l[2].share()
	}
	same(l[0], l[2])
}

// Case: two laptops carry the same lines at once. Each segment is stored once.
func TestTwoCarryAtOnce(t *testing.T) {
	y, l := open(t, "ann", "bea", "cal", "dot")
	for range 6 {
		l[0].examine(30)
	}
	l[0].share()
	for _, m := range l[1:] {
		m.share()
	}
	require.NoError(t, l[0].Close())
	y.emptied()
	var over []chan error
	for _, m := range l[1:] {
		c := make(chan error, 1)
		over = append(over, c)
		go func() {
			done, err := m.try()
			c <- errors.Join(err, done.Unwritten)
		}()
	}
	for _, c := range over {
		require.NoError(t, <-c)
	}
	for _, m := range l[1:] {
		m.share()
	}
	same(l[1:]...)
	said := len(y.practice.Said)
	assert.LessOrEqual(t, y.messages(), said+2, "one segment of ann's log, and the statements")
}

// Case: the hub was put back to an older copy, and others wrote since, so that the message
// at the cursor is another one.
func TestTheHubIsPutBack(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(3)
	l[0].share()
	copied := y.saved()
	l[0].examine(4)
	l[0].share()
	l[0].examine(4)
	l[0].share()
	l[1].share()
	y.put(copied)
	l[1].examine(2)
	l[1].share() // sends its own and carries what the hub lost
	l[0].share()
	l[1].share()
	same(l...)
	cal := y.laptop("cal")
	y.again(func() {})
	cal.share()
	same(l[0], cal)
}

// Case: the same, where the lost messages are after the cursor, so that nothing shows it. The cursor does not move for an
// acknowledgment that is not of the message right after it.
func TestTheHubLostWhatIsAboveTheCursor(t *testing.T) {
	y, l := open(t, "ann", "bea", "cal")
	l[0].examine(3)
	l[0].share()
	l[1].share()
	l[0].share() // the cursor of ann is at the end now
	copied := y.saved()
	l[1].examine(2)
	l[1].share() // above the cursor of ann
	l[1].leave()
	y.put(copied)
	l[2].examine(1)
	l[2].share() // where bea's were
	l[0].examine(5)
	l[0].share()
	l[1].share()
	for _, m := range l {
		m.share()
	}
	same(l...)
}

// Case: a laptop was restored from a copy and wrote nothing since. It takes its own lines
// in and begins a new log with the next.
func TestARestoredLaptopTakesItsOwnLines(t *testing.T) {
	y, l := open(t, "ann", "bea")
	ann := l[0]
	ann.examine(2)
	ann.share()
	require.NoError(t, ann.Close())
	old := t.TempDir() + "/old"
	require.NoError(t, trial.Copy(ann.Dir, old))
	ann.leave()
	ann = y.stranger("ann", ann.Dir)
	ann.examine(3)
	ann.share()
	ann.leave()
	require.NoError(t, ann.Close())

	back := y.stranger("ann", old)
	in := back.share()
	assert.Equal(t, 6, in.Came)
	logs, err := back.Logs()
	require.NoError(t, err)
	require.Len(t, logs, 1)
	assert.True(t, logs[0].Doubt, "ended in the commit that took the lines")
	back.examine(1)
	logs, err = back.Logs()
	require.NoError(t, err)
	assert.Len(t, logs, 2)
	back.share()
	l[1].share()
	same(back, l[1])
}

// Cases: a disk was copied and used on both, one after the other and at the same moment.
// Each branch reaches the hub, and what is written after that reaches everybody.
func TestACopiedDiskIsUsedOnBoth(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(2)
	l[0].share()
	l[1].share()
	one, two := y.twins(l[0])
	one.share()
	done := two.share()
	require.Len(t, done.In.Branches, 1, "it is named")
	assert.Contains(t, done.In.Branches[0].String(), "copied or restored")
	assert.Equal(t, 7, done.Lines, "its own branch is carried")
	assert.Len(t, one.share().In.Branches, 1, "and here too")
	one.examine(1)
	two.examine(2)
	for _, m := range []*mate{one, two, l[1], one, two, l[1]} {
		m.share()
	}
	same(one, two, l[1])
	list, err := l[1].Recent(0)
	require.NoError(t, err)
	assert.Len(t, list, 5, "one before the copy, one of each branch, one of each after")
	before := y.messages()
	for _, m := range []*mate{one, two, l[1]} {
		m.share()
	}
	assert.Equal(t, before, y.messages(), "a branch that is there is not sent again")

	// The hub is emptied and both are gone: bea carries both branches.
	y.emptied()
	l[1].share()
	cal := y.laptop("cal")
	y.again(func() {})
	cal.share()
	same(l[1], cal)
}

func TestTwinsSendAtTheSameMoment(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].examine(2)
	l[0].share()
	one, two := y.twins(l[0])
	over := make(chan error, 2)
	for _, m := range []*mate{one, two} {
		go func() {
			_, err := m.try()
			over <- err
		}()
	}
	require.NoError(t, errors.Join(<-over, <-over))
	for _, m := range []*mate{one, two, one} {
		m.share()
	}
	same(one, two)
	doubted := 0
	for _, m := range []*mate{one, two} {
		logs, err := m.Logs()
		require.NoError(t, err)
		for _, log := range logs {
			if log.Doubt && log.Row == log.Log {
				doubted++
			}
		}
	}
	assert.Equal(t, 2, doubted, "both have seen the other branch")
}

// Case: junk on a log's subject, such as an acknowledgment that somebody sent there. It is
// passed over, its sequence counts, and the owner goes on after it.
func TestJunkInALog(t *testing.T) {
	y, l := open(t, "ann", "bea")
	ann := l[0]
	ann.examine(2)
	ann.share()
	l[1].share()
	logs, err := ann.Logs()
	require.NoError(t, err)
	own := "log.v1." + y.practice.Practice.ID() + "." + hub.KeyName(ann.Key()) + "." + logs[0].Log.String()
	// The hub answers a message to the subject that its sender names: bea names ann's log.
	nc := y.dial(l[1])
	m := nats.NewMsg("carry.v1." + y.practice.Practice.ID() + "." + hub.KeyName(l[1].Key()) + ".x")
	m.Reply, m.Data = own, []byte("junk")
	require.NoError(t, nc.PublishMsg(m))
	require.NoError(t, nc.Flush())
	require.Eventually(t, func() bool { return strings.HasPrefix(y.last(ann, own), "{") }, patience, 20*time.Millisecond)
	ann.examine(3)
	done := ann.share()
	assert.Equal(t, 6, done.Lines)
	assert.Equal(t, 2, done.Broken, "bea's junk, and the hub's answer to it")
	l[1].share()
	same(l...)
}

// Case: the hub is full. The lines stay here, the person is told, and they go when it has
// room again.
func TestTheHubIsFull(t *testing.T) {
	y := newYard(t)
	ann, bea := y.laptop("ann"), y.laptop("bea")
	require.NoError(t, ann.Join(y.practice))
	y.bytes = 20 << 10
	y.start()
	var full error
	for range 200 {
		ann.examine(40)
		done, err := ann.try()
		require.NoError(t, err)
		if full = done.Unwritten; full != nil {
			assert.Positive(t, done.Waiting)
			break
		}
	}
	require.ErrorContains(t, full, "the hub is full")
	bea.share() // reading goes on
	y.again(func() { y.bytes = 1 << 30 })
	ann.share()
	bea.share()
	same(ann, bea)
}

// Case: a message is longer than the hub takes. It stays here, the person is told, and
// what other laptops sent still comes.
func TestAMessageIsTooLong(t *testing.T) {
	y, l := open(t, "ann", "bea")
	l[0].share()
	nc, err := y.server.Inside()
	require.NoError(t, err)
	defer nc.Close()
	js, err := jetstream.New(nc)
	require.NoError(t, err)
	st, err := js.Stream(t.Context(), hub.Stream(y.practice.Practice.ID()))
	require.NoError(t, err)
	cfg := st.CachedInfo().Config
	cfg.MaxMsgSize = 1000
	_, err = js.UpdateStream(t.Context(), cfg)
	require.NoError(t, err)
	l[0].examine(200)
	l[1].examine(1)
	_, err = l[1].try()
	require.NoError(t, err)
	done, err := l[0].try()
	require.NoError(t, err)
	require.ErrorContains(t, done.Unwritten, "no message as long")
	assert.Equal(t, 203, done.Waiting)
	assert.Equal(t, 1, done.In.Visits)
	y.again(func() {}) // the hub sets its own limit again
	l[0].share()
	l[1].share()
	same(l...)
}
