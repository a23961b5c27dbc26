package server_test

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/signedlog"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
)

// sealed is a yard whose practice seals what is exchanged.
func sealed(t testing.TB, names ...string) (*yard, []*mate) {
	t.Helper()
	y, l := open(t, names...)
	require.NoError(t, y.practice.Seal(true))
	for _, m := range l {
		require.NoError(t, m.Join(y.practice))
	}
	return y, l
}

// stored are the messages of the hub as its disk has them: segments alone.
func (y *yard) stored(as *mate) (out [][]byte) {
	y.t.Helper()
	nc := y.dial(as)
	id := y.practice.Practice.ID()
	for seq := range y.messages() {
		m, err := nc.Request("$JS.API.DIRECT.GET."+hub.Stream(id), fmt.Appendf(nil, `{"seq":%d}`, seq+1), patience)
		require.NoError(y.t, err)
		if _, err := signedlog.ReadLabel(m.Data); err == nil {
			out = append(out, m.Data)
		}
	}
	return out
}

// Nothing that a horse is called by is on the hub's disk, packed or not; unsealed it is.
func TestNothingReadableIsAtASealedHub(t *testing.T) {
	for _, seals := range []bool{true, false} {
		begin := open
		if seals {
			begin = sealed
		}
		y, l := begin(t, "ann", "bea")
		l[0].examine(3)
		l[0].share()
		l[1].share()
		same(l...)
		found := false
		look := func(data []byte) { found = found || bytes.Contains(data, []byte("Horse 1 of ann")) }
		for _, data := range y.stored(l[1]) {
			look(data)
			for cut := range min(len(data), signedlog.WireHead+200) { // wherever something packed may begin
				if raw, err := signedlog.Decompress(data[cut : len(data)-4]); err == nil {
					look(raw)
				}
			}
		}
		y.again(func() {
			require.NoError(t, filepath.WalkDir(y.dir, func(path string, d fs.DirEntry, err error) error {
				if err != nil || !d.Type().IsRegular() {
					return err
				}
				data, err := os.ReadFile(path)
				look(data)
				return err
			}))
		})
		assert.Equal(t, !seals, found, "sealed: %t", seals)
	}
}

// A laptop that comes in later opens nothing of what is there, says so, and reads all of it
// once one of the others has been there; then nobody sends anything more.
func TestALaptopThatComesInLaterReadsOldLines(t *testing.T) {
	y, l := sealed(t, "ann", "bea", "old")
	l[2].examine(3)
	l[2].share()
	for i := range 3 {
		l[0].examine(i + 1)
		l[0].share()
		l[1].examine(2)
		l[1].share()
	}
	l[0].share()
	l[2].leave()
	require.NoError(t, l[2].Close()) // it is gone: others carry its lines

	cal := y.laptop("cal")
	y.again(func() {})
	done, err := cal.try()
	require.NoError(t, err)
	assert.Zero(t, done.Came)
	assert.Equal(t, 6+4+5+6+3*5, done.Sealed)
	cal.examine(1)
	done, err = cal.try()
	require.NoError(t, err)
	assert.Equal(t, 4, done.Lines, "what it writes itself goes out")

	require.NoError(t, l[1].Join(y.practice))
	over := make(chan error, 2)
	for _, m := range l[:2] { // both seal anew at the same moment
		go func() {
			_, err := m.try()
			over <- err
		}()
	}
	for range 2 {
		require.NoError(t, <-over)
	}
	for range 2 {
		l[0].share()
		l[1].share()
	}
	in := cal.share()
	assert.Zero(t, in.Sealed)
	same(l[0], l[1], cal)
	before := y.messages()
	for _, m := range []*mate{l[0], l[1], cal} {
		assert.Zero(t, m.share().Files)
	}
	assert.Equal(t, before, y.messages())

	// A hub that is emptied is filled by it alone, for everybody.
	y.emptied()
	cal.share()
	fresh := y.laptop("fresh")
	require.NoError(t, cal.Join(y.practice))
	y.again(func() {})
	cal.share()
	fresh.share()
	same(cal, fresh)
}

// A laptop that went out opens nothing that the others sealed since; what was sealed before
// it opens, as is said.
func TestALaptopThatWentOutReadsNothingNewer(t *testing.T) {
	y, l := sealed(t, "ann", "bea", "cal")
	l[0].examine(2)
	l[0].share()
	thief, err := share.SealOf(y.practice.Roster, l[1])
	require.NoError(t, err)
	before := y.stored(l[0])
	require.NoError(t, y.practice.End(l[1].Laptop, l[0].Laptop))
	require.NoError(t, l[0].Join(y.practice))
	l[0].examine(3)
	l[0].share()
	l[2].share()
	l[2].examine(2)
	l[2].share()
	l[0].share()
	same(l[0], l[2])
	all := y.stored(l[0])
	require.Greater(t, len(all), len(before)+1)
	for i, data := range all {
		o, err := thief.Open(data)
		require.NoError(t, err)
		assert.Equal(t, i >= len(before), o.Closed, "message %d", i)
	}
}

// A message is a file, sealed or not: what is at the hub is put onto a stick as it is.
func TestASealedMessageIsAFile(t *testing.T) {
	y, l := sealed(t, "ann", "bea")
	l[0].examine(3)
	l[0].share()
	stick := t.TempDir()
	for i, data := range y.stored(l[0]) {
		require.NoError(t, os.WriteFile(filepath.Join(stick, fmt.Sprint(i, ".seg")), data, 0o600))
	}
	done, err := share.New(stick).Exchange(context.Background(), l[1])
	require.NoError(t, err)
	assert.Equal(t, 6, done.Came)
	assert.Zero(t, done.Files, "the folder has it")
	same(l...)
}

// Junk, a cut, another's records in a head that is sound: passed over, and the owner's lines
// are sent again.
func TestAWrongSealIsPassedOver(t *testing.T) {
	y, l := sealed(t, "ann", "bea", "cal")
	l[0].examine(3)
	l[0].share()
	sound := y.stored(l[0])[0]
	w, err := signedlog.ReadWire(sound)
	require.NoError(t, err)
	l[0].examine(2)
	logs, err := l[0].Logs()
	require.NoError(t, err)
	next, err := l[0].Next(logs[0].Row, 6, 11)
	require.NoError(t, err)
	nc := y.dial(l[1])
	junk := 0
	for _, body := range [][]byte{w.Body, w.Body[:40], nil, {0, 9}, append(bytes.Clone(w.Body), 1)} {
		data, err := next.Sealed(func([]byte) ([]byte, error) { return body, nil })
		require.NoError(t, err)
		back, err := nc.Request("carry.v1."+y.practice.Practice.ID()+"."+hub.KeyName(l[1].Key())+"."+next.Log.String(), data, patience)
		require.NoError(t, err)
		require.NotContains(t, string(back.Data), "error")
		junk++
	}
	done := l[2].share()
	assert.Equal(t, junk, done.Broken)
	assert.Equal(t, 6, done.Came)
	assert.Equal(t, 5, l[0].share().Lines)
	l[2].share()
	l[1].share()
	same(l...)
}

// The cases of the exchange once more, sealed: an emptied hub, an older copy, a copied disk.
func TestTheCasesSealed(t *testing.T) {
	y, l := sealed(t, "ann", "bea")
	l[0].examine(3)
	l[0].share()
	copied := y.saved()
	l[1].share()
	l[1].examine(2)
	l[1].share()
	y.put(copied)
	l[0].examine(1)
	l[0].share()
	l[1].share()
	l[0].share()
	same(l...)
	y.emptied()
	l[1].share()
	l[0].share()
	same(l...)
	one, two := y.twins(l[0])
	for _, m := range []*mate{one, two, l[1], one, two, l[1]} {
		m.share()
	}
	same(one, two, l[1])
}
