package share_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage/share"
)

// seals is what the practice says of sealing.
func (c *clinic) seals(t require.TestingT, on bool) roster.Statement {
	s := c.statement()
	s.Sealed = &on
	s, err := roster.Say(c.key, s)
	require.NoError(t, err)
	return s
}

// sealing is a practice that seals, with some laptops in it.
func sealing(t testing.TB, names ...string) (*clinic, []*laptop) {
	c := newClinic(7)
	said := []roster.Statement{c.seals(t, true)}
	var list []*laptop
	for _, name := range names {
		l := newLaptop(t, name)
		list, said = append(list, l), append(said, c.says(t, l, false, nil))
	}
	for _, l := range list {
		l.take(t, said...)
	}
	return c, list
}

// sealOf is how a laptop opens files.
func sealOf(t testing.TB, l *laptop) *share.Seal {
	have, err := l.Roster()
	require.NoError(t, err)
	s, err := share.SealOf(have, l)
	require.NoError(t, err)
	return s
}

// contents are the files of segments in a folder, by their names.
func contents(t testing.TB, dir string) map[string][]byte {
	out := map[string][]byte{}
	for _, name := range files(t, dir) {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		out[name] = data
	}
	return out
}

// No name of a horse is on a sealed stick, nor behind whatever can be unpacked there; on
// one that is not sealed it is.
func TestNothingReadableIsOnASealedStick(t *testing.T) {
	for _, on := range []bool{true, false} {
		stick := t.TempDir()
		c, l := sealing(t, "ann", "bea")
		if !on {
			off := c.seals(t, false)
			l[0].take(t, off)
		}
		l[0].examine(t, 5)
		l[0].exchange(t, stick)
		found := false
		look := func(data []byte) { found = found || bytes.Contains(data, []byte(`"ann 1"`)) }
		require.NotEmpty(t, files(t, stick))
		for _, data := range contents(t, stick) {
			look(data)
			for cut := range len(data) - 4 {
				if raw, err := signedlog.Decompress(data[cut : len(data)-4]); err == nil {
					look(raw)
				}
			}
			_, _, err := signedlog.ReadSegment(data)
			assert.Equal(t, on, err != nil)
		}
		assert.Equal(t, !on, found, "sealed: %t", on)
		l[1].exchange(t, stick)
		same(t, l...)
	}
}

// A laptop that comes in later says what it cannot open, and reads it once another one was
// there; what is there for all is not written again.
func TestALaptopThatComesInLater(t *testing.T) {
	stick := t.TempDir()
	c, l := sealing(t, "ann", "bea")
	for _, m := range append(l, l...) {
		m.examine(t, 3)
		m.exchange(t, stick)
	}
	cal := newLaptop(t, "cal")
	in := c.says(t, cal, false, nil)
	l[0].take(t, in)
	have, err := l[0].Roster()
	require.NoError(t, err)
	cal.take(t, have.Said...)
	cal.examine(t, 1)
	done, err := share.New(stick).Exchange(context.Background(), cal)
	require.NoError(t, err)
	assert.Zero(t, done.Came)
	assert.Equal(t, 4*6, done.Sealed)
	assert.Zero(t, done.Broken)
	assert.Equal(t, 4, done.Lines)

	back := l[1].exchange(t, stick)
	assert.Equal(t, 4, back.Came)
	assert.Equal(t, 4*6, back.Lines, "sealed anew, to all three")
	in2 := cal.exchange(t, stick)
	assert.Equal(t, 4*6, in2.Came)
	assert.Zero(t, in2.Sealed)
	l[0].exchange(t, stick)
	before := files(t, stick)
	same(t, l[0], l[1], cal)
	for _, m := range append(l, cal) {
		assert.Equal(t, share.Result{}, m.exchange(t, stick))
	}
	assert.Equal(t, before, files(t, stick))
}

// A laptop that went out opens what was sealed before, and nothing that was sealed since.
func TestALaptopThatWentOutOpensNothingNewer(t *testing.T) {
	stick := t.TempDir()
	c, l := sealing(t, "ann", "bea", "cal")
	for _, m := range l {
		m.examine(t, 2)
		m.exchange(t, stick)
	}
	thief, before := sealOf(t, l[1]), contents(t, stick)
	reach, err := l[0].Reach(l[1].Key())
	require.NoError(t, err)
	l[0].take(t, c.says(t, l[1], true, reach))
	l[0].examine(t, 2)
	l[0].exchange(t, stick)
	l[2].exchange(t, stick)
	l[2].examine(t, 2)
	l[2].exchange(t, stick)
	l[0].exchange(t, stick)
	same(t, l[0], l[2])
	_, err = share.New(stick).Exchange(context.Background(), l[1])
	require.ErrorIs(t, err, share.ErrNotIn)
	newer := 0
	for name, data := range contents(t, stick) {
		o, err := thief.Open(data)
		require.NoError(t, err)
		_, old := before[name]
		assert.Equal(t, !old, o.Closed, name)
		if !old {
			newer++
			assert.Empty(t, o.Cores)
			assert.Positive(t, o.Lines, "which lines these are is no secret")
		}
	}
	assert.GreaterOrEqual(t, newer, 2)
}

// What closes a segment is changed, cut, or another's: the file is passed over and gets a
// sound one beside it, and nothing is lost.
func TestAWrongSealGetsASoundFileBesideIt(t *testing.T) {
	stick := t.TempDir()
	_, l := sealing(t, "ann", "bea")
	l[0].examine(t, 3)
	l[0].exchange(t, stick)
	name := files(t, stick)[0]
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	w, err := signedlog.ReadWire(data)
	require.NoError(t, err)
	logs, err := l[0].Logs()
	require.NoError(t, err)
	s, err := l[0].Next(logs[0].Row, 0, logs[0].N)
	require.NoError(t, err)
	other := newLaptop(t, "other")
	other.examine(t, 3)
	theirs, err := other.Logs()
	require.NoError(t, err)
	o, err := other.Next(theirs[0].Row, 0, theirs[0].N)
	require.NoError(t, err)
	foreign, err := sealOf(t, l[0]).Bytes(o)
	require.NoError(t, err)
	fw, err := signedlog.ReadWire(foreign)
	require.NoError(t, err)
	flipped := bytes.Clone(w.Body)
	flipped[len(flipped)-1] ^= 1
	for what, body := range map[string][]byte{
		"empty": nil, "cut": w.Body[:len(w.Body)-5], "no file": w.Body[:2+2*8], "too many laptops": {0xff, 0xff},
		"flipped": flipped, "other records": fw.Body, "not sealed": signedlog.Pack(s.Cores),
	} {
		bad, err := s.Sealed(func([]byte) ([]byte, error) { return body, nil })
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, bad, 0o600))
		for _, f := range files(t, stick) {
			if f != name {
				require.NoError(t, os.Remove(f))
			}
		}
		done := l[0].exchange(t, stick)
		assert.Equal(t, 1, done.Broken, what)
		assert.Equal(t, 1, done.Files, what)
		l[1].exchange(t, stick)
		same(t, l...)
	}
}

// Sealing is one setting: whoever learns of it later goes on as before, and off ends it.
func TestSealingIsLearnedByTheFolder(t *testing.T) {
	stick := t.TempDir()
	c, l := sealing(t, "ann", "bea")
	l[0].examine(t, 2)
	l[0].exchange(t, stick)
	l[0].take(t, c.seals(t, false))
	l[0].exchange(t, stick)
	l[1].exchange(t, stick)
	l[1].examine(t, 2)
	before := contents(t, stick)
	l[1].exchange(t, stick)
	for name, data := range contents(t, stick) {
		if _, old := before[name]; !old {
			_, _, err := signedlog.ReadSegment(data)
			require.NoError(t, err, "it learned that nothing is sealed any more")
		}
	}
	marker, err := os.ReadFile(filepath.Join(stick, share.Marker))
	require.NoError(t, err)
	assert.True(t, strings.Contains(string(marker), "unless the practice seals it"))
}
