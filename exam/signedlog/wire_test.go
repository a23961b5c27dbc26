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
		equal(t, s, back)
		require.Equal(t, s.Digests(), digests)
		require.Equal(t, b, back.Bytes(), "what was read is not packed again")
		shorter := back
		shorter.Cores = append(back.Cores[:0:0], back.Cores[1:]...)
		shorter.First, shorter.Prev = 2, digests[0]
		require.Equal(t, digests[1:], shorter.Digests(), "and not remembered of another one")
		label, err := signedlog.ReadLabel(b[:signedlog.WireHead])
		require.NoError(t, err)
		require.Equal(t, signedlog.Claim{Log: s.Log, First: 1, Last: s.Last(), Digest: digests[len(digests)-1]}, label)

		b[rapid.IntRange(0, len(b)-1).Draw(t, "byte")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		_, _, err = signedlog.ReadSegment(b)
		require.Error(t, err)
		_, _, err = signedlog.ReadSegment(s.Bytes()[:rapid.IntRange(0, len(b)-1).Draw(t, "cut")])
		require.Error(t, err)
	})
}

// equal compares segments, not what is remembered of reading one.
func equal(t require.TestingT, want, have signedlog.Segment) {
	require.Equal(t, want, signedlog.Segment{
		Log: have.Log, Public: have.Public, Nonce: have.Nonce, First: have.First, Prev: have.Prev, Cores: have.Cores,
		Signature: have.Signature, Rehearsals: have.Rehearsals,
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
		"an unknown flag":       func(b []byte) { b[19] |= 4 },
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
	equal(t, s, back)
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

// A segment that is closed keeps its place and its signature in sight: whoever holds it
// verifies them, and only what was signed comes out of it.
func TestWhatIsSealedCanBeVerified(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bodies := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 1, 60), 1, 12).Draw(t, "bodies")
		s := built(t, key(3), bodies)[0]
		s.Rehearsals = rapid.Bool().Draw(t, "rehearsals")
		turn := func(b []byte) []byte {
			b = bytes.Clone(b)
			for i := range b {
				b[i] ^= 0xa5
			}
			return b
		}
		b, err := s.Sealed(func(packed []byte) ([]byte, error) { return turn(packed), nil })
		require.NoError(t, err)
		_, _, err = signedlog.ReadSegment(b)
		require.ErrorIs(t, err, signedlog.ErrSealed)
		w, err := signedlog.ReadWire(b)
		require.NoError(t, err)
		require.True(t, w.Sealed)
		digests := s.Digests()
		require.Equal(t, signedlog.Claim{Log: s.Log, First: 1, Last: s.Last(), Digest: digests[len(digests)-1]}, w.Claim)
		back, again, err := w.Open(turn(w.Body))
		require.NoError(t, err)
		equal(t, s, back)
		require.Equal(t, digests, again)
		other := bytes.Clone(w.Body)
		other[rapid.IntRange(0, len(other)-1).Draw(t, "inside")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		if back, _, err = w.Open(turn(other)); err == nil { // some bits of what is packed mean nothing
			equal(t, s, back)
		}
		for _, at := range []int{25, 105, 150} { // key, last digest, signature
			b := bytes.Clone(b)
			b[at] ^= 1
			b = binary.BigEndian.AppendUint32(b[:len(b)-4], crc32.Checksum(b[:len(b)-4], crc32.MakeTable(crc32.Castagnoli)))
			_, err = signedlog.ReadWire(b)
			require.Error(t, err, "byte %d", at)
		}
	})
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
