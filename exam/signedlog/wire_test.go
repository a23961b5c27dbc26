package signedlog_test

import (
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"hash/crc32"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/signedlog"
)

// A segment comes back from its bytes, and whatever bit of them is flipped shows.
func TestTheBytesOfASegment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bodies := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 1, 60), 1, 12).Draw(t, "bodies")
		s := built(t, key(3), bodies)[0]
		s.Rehearsals = rapid.Bool().Draw(t, "rehearsals")
		b := s.Bytes()
		back, digests, err := signedlog.ReadSegment(b)
		require.NoError(t, err)
		require.Equal(t, s, back)
		require.Equal(t, s.Digests(), digests)
		label, err := signedlog.ReadLabel(b[:signedlog.WireHead])
		require.NoError(t, err)
		require.Equal(t, signedlog.Label{Log: s.Log, First: 1, Last: s.Last(), Digest: digests[len(digests)-1]}, label)

		b[rapid.IntRange(0, len(b)-1).Draw(t, "byte")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		_, _, err = signedlog.ReadSegment(b)
		require.Error(t, err)
		_, _, err = signedlog.ReadSegment(s.Bytes()[:rapid.IntRange(0, len(b)-1).Draw(t, "cut")])
		require.Error(t, err)
	})
}

// A sum that was made to fit lets nothing through that the key did not sign, and no
// length is believed.
func TestASumThatFitsIsNotBelieved(t *testing.T) {
	s := built(t, key(3), [][]byte{[]byte("one"), []byte("two")})[0]
	for name, spoil := range map[string]func([]byte){
		"the key":               func(b []byte) { b[25] ^= 1 },
		"the first record":      func(b []byte) { b[67]++ },
		"the count":             func(b []byte) { binary.BigEndian.PutUint32(b[68:], 1<<31) },
		"the last digest":       func(b []byte) { b[110] ^= 1 },
		"the raw length":        func(b []byte) { binary.BigEndian.PutUint32(b[signedlog.WireHead-4:], 1<<30) },
		"the raw length by one": func(b []byte) { b[signedlog.WireHead-1]++ },
		"the cores":             func(b []byte) { b[len(b)-6] ^= 1 },
		"an unknown flag":       func(b []byte) { b[19] |= 2 },
	} {
		b := s.Bytes()
		spoil(b)
		body := b[:len(b)-4]
		b = binary.BigEndian.AppendUint32(bytes.Clone(body), crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)))
		_, _, err := signedlog.ReadSegment(b)
		assert.Error(t, err, name)
	}
}

// The mark of rehearsals is a part of what is signed where the log's name says it.
func TestTheMarkIsSignedFor(t *testing.T) {
	k := key(3)
	public, _ := k.Public().(ed25519.PublicKey)
	s := built(t, k, [][]byte{[]byte("one")})[0]
	s.Log, s.Rehearsals = signedlog.RehearsalsNameOf(public, s.Nonce), true
	s.Signature = signedlog.Sign(k, s.Log, 1, s.Digests()[0])
	b := s.Bytes()
	back, _, err := signedlog.ReadSegment(b)
	require.NoError(t, err)
	require.Equal(t, s, back)
	for flags := range 256 {
		b := bytes.Clone(s.Bytes())
		if b[19] = byte(flags); flags == 3 {
			continue
		}
		body := b[:len(b)-4]
		b = binary.BigEndian.AppendUint32(body, crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)))
		_, _, err := signedlog.ReadSegment(b)
		require.Error(t, err, "flags %d", flags)
	}
}

func FuzzReadSegment(f *testing.F) {
	f.Add(built(f, key(3), [][]byte{[]byte("one"), []byte("two")})[0].Bytes())
	f.Add([]byte("loosebox segment 1\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		s, digests, err := signedlog.ReadSegment(b)
		if err != nil {
			return
		}
		again, _, err := signedlog.ReadSegment(s.Bytes())
		require.NoError(t, err)
		require.Equal(t, digests, again.Digests())
	})
}
