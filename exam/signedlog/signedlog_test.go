package signedlog_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/signedlog"
)

func key(seed byte) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, ed25519.SeedSize))
}

// built is a log of some bodies, in its segments.
func built(t require.TestingT, k ed25519.PrivateKey, bodies [][]byte) []signedlog.Segment {
	var out []signedlog.Segment
	b := signedlog.NewBuilder(k, signedlog.Nonce{1, 2}, func(s signedlog.Segment) error { out = append(out, s); return nil })
	for _, body := range bodies {
		_, err := b.Add(body)
		require.NoError(t, err)
	}
	require.NoError(t, b.Close())
	return out
}

// The form of the digests, written out by hand: SHA-256 (FIPS 180-4) over the domain, the
// log, the number in eight bytes, the digest before and the core.
func TestDigestsAreWhatTheFormSays(t *testing.T) {
	s := built(t, key(7), [][]byte{[]byte("one"), []byte("two")})[0]
	public, _ := key(7).Public().(ed25519.PublicKey)
	name := sha256.Sum256(append(append([]byte("loosebox/log/1\x00"), public...), 1, 2, 0, 0, 0, 0, 0, 0))
	require.Equal(t, name[:16], s.Log[:])
	var prev [32]byte
	for i, body := range []string{"one", "two"} {
		text := append([]byte("loosebox/record/1\x00"), s.Log[:]...)
		text = binary.BigEndian.AppendUint64(text, uint64(i+1))
		text = append(text, prev[:]...)
		text = append(text, byte(i+1), 0) // the clock, and no heads
		text = append(text, body...)
		prev = sha256.Sum256(text)
		assert.Equal(t, signedlog.Digest(prev), s.Digests()[i])
	}
	signed := append([]byte("loosebox/signed/1\x00"), s.Log[:]...)
	signed = append(binary.BigEndian.AppendUint64(signed, 2), prev[:]...)
	assert.True(t, ed25519.Verify(public, signed, s.Signature))
}

// Whatever is changed of a segment shows: a bit of a body, its place, its log, its key.
func TestAChangedSegmentDoesNotVerify(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bodies := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 1, 60), 2, 12).Draw(t, "bodies")
		s := built(t, key(3), bodies)[0]
		_, err := s.Verify()
		require.NoError(t, err)
		i := rapid.IntRange(0, len(s.Cores)-1).Draw(t, "record")
		switch rapid.IntRange(0, 6).Draw(t, "what") {
		case 0:
			s.Cores[i] = bytes.Clone(s.Cores[i])
			s.Cores[i][rapid.IntRange(0, len(s.Cores[i])-1).Draw(t, "byte")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		case 1:
			s.Cores = append(s.Cores[:i:i], s.Cores[i+1:]...)
		case 2:
			s.First++
		case 3:
			s.Prev[0] ^= 1
		case 4:
			s.Nonce[0] ^= 1
		case 5:
			s.Public, _ = key(4).Public().(ed25519.PublicKey)
		case 6:
			s.Signature = s.Signature[:63]
		}
		_, err = s.Verify()
		require.Error(t, err)
	})
}

// What is packed comes out again, in segments that keep their limits.
func TestPackedRecordsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bodies := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 0, 200), 1, 900).Draw(t, "bodies")
		n := 0
		for _, s := range built(t, key(3), bodies) {
			require.LessOrEqual(t, len(s.Cores), signedlog.MaxRecords)
			back, err := signedlog.Unpack(signedlog.Pack(s.Cores), len(s.Cores))
			require.NoError(t, err)
			require.Equal(t, s.Cores, back)
			for _, core := range back {
				r, err := signedlog.ParseCore(core)
				require.NoError(t, err)
				require.Equal(t, bodies[n], append([]byte{}, r.Body...))
				n++
			}
		}
		require.Equal(t, len(bodies), n)
	})
}

func TestHeadsComeBack(t *testing.T) {
	r := signedlog.Record{Counter: 1 << 40, Heads: []signedlog.Head{{Log: signedlog.ID{1}, N: 9, Digest: [8]byte{2}}, {Log: signedlog.ID{3}, N: 1}}, Body: []byte("x")}
	back, err := signedlog.ParseCore(r.Core())
	require.NoError(t, err)
	assert.Equal(t, r, back)
}

// FuzzSegment feeds the readers of cores and packs with what a file or a hub may hold.
func FuzzSegment(f *testing.F) {
	f.Add(signedlog.Pack([][]byte{signedlog.Record{Counter: 1, Body: []byte("e{}")}.Core()}), 1)
	f.Add([]byte{1, 0x28, 0xb5, 0x2f, 0xfd}, 2)
	f.Fuzz(func(t *testing.T, packed []byte, want int) {
		cores, err := signedlog.Unpack(packed, want)
		if err != nil {
			return
		}
		if len(cores) != want {
			t.Fatalf("%d cores where %d were asked for", len(cores), want)
		}
		for _, core := range cores {
			if r, err := signedlog.ParseCore(core); err == nil && len(r.Body) > len(core) {
				t.Fatal("a body is longer than its record")
			}
		}
	})
}
