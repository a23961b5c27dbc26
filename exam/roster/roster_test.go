package roster_test

import (
	"bytes"
	"crypto/ed25519"
	"fmt"
	"hash/crc32"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
)

func key(seed byte) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, ed25519.SeedSize))
}

func public(k ed25519.PrivateKey) ed25519.PublicKey {
	p, _ := k.Public().(ed25519.PublicKey)
	return p
}

func practice() roster.Practice {
	return roster.Practice{Name: "Hollow Farm Vets", Key: public(key(1))}
}

func say(t require.TestingT, laptop byte, name string, out bool, until map[signedlog.ID]uint64, minute int) roster.Statement {
	s, err := roster.Say(key(1), roster.Statement{
		Practice: practice(), Key: public(key(laptop)), Name: name, Out: out, Until: until,
		At: time.Date(2026, 3, 1, 9, minute, 0, 0, time.UTC),
	})
	require.NoError(t, err)
	return s
}

// The list is that of BIP 39: 2,048 words by the CRC-32 that its implementations print,
// of which the first four letters differ.
func TestTheWordsAreThoseOfTheStandard(t *testing.T) {
	data, err := os.ReadFile("words.txt")
	require.NoError(t, err)
	assert.EqualValues(t, 0xc1dbd296, crc32.ChecksumIEEE(data))
	seen := map[string]bool{}
	for _, w := range strings.Fields(string(data)) {
		w = w[:min(4, len(w))]
		assert.False(t, seen[w], w)
		seen[w] = true
	}
	assert.Len(t, seen, 2048)
}

// Six words follow from key and name: another key or another name has others.
func TestSixWords(t *testing.T) {
	q := roster.Request{Key: public(key(2)), Name: "truck"}
	assert.Len(t, strings.Fields(q.Words()), 6)
	assert.NotEqual(t, q.Words(), roster.Request{Key: q.Key, Name: "Truck"}.Words())
	assert.NotEqual(t, q.Words(), roster.Request{Key: public(key(3)), Name: "truck"}.Words())
	assert.NotEqual(t, q.Words(), roster.Practice{Key: q.Key, Name: "truck"}.Words(), "a practice does not sound like a laptop")
	assert.True(t, roster.SameWords("  "+strings.ToUpper(q.Words())+"\n", q.Words()))
	assert.False(t, roster.SameWords("", q.Words()))
	seen := map[string]bool{}
	for i := range 2000 {
		for _, w := range strings.Fields(roster.Request{Key: public(key(2)), Name: fmt.Sprint(i)}.Words()) {
			seen[w] = true
		}
	}
	assert.Greater(t, len(seen), 1990, "12,000 draws meet nearly every word")
}

// Out beats in, and of several ends the smallest counts, in whatever order they come.
func TestARosterIsASet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := func(i int) signedlog.ID { return signedlog.ID{byte(i)} }
		var all []roster.Statement
		for i := range rapid.IntRange(1, 12).Draw(t, "statements") {
			laptop := rapid.IntRange(2, 4).Draw(t, "laptop")
			until := map[signedlog.ID]uint64{}
			out := rapid.Bool().Draw(t, "out")
			for l := range rapid.IntRange(0, 2).Draw(t, "logs") {
				until[log(l)] = rapid.Uint64Range(1, 9).Draw(t, "until")
			}
			all = append(all, say(t, byte(laptop), fmt.Sprint("laptop ", i), out, until, rapid.IntRange(0, 3).Draw(t, "minute")))
		}
		var one, two roster.Roster
		for _, s := range all {
			one.Add(s)
		}
		for _, s := range rapid.Permutation(all).Draw(t, "order") {
			two.Add(s)
			assert.False(t, two.Add(s), "a second time it is not new")
		}
		require.Equal(t, one, two)
		require.Equal(t, one.Laptops(), two.Laptops())
		for laptop := byte(2); laptop <= 5; laptop++ {
			standing, least, most := roster.Unknown, map[int]uint64{}, map[int]uint64{}
			for _, s := range all {
				switch {
				case !s.Key.Equal(public(key(laptop))):
				case s.Out:
					standing = roster.Out
					for l := range 3 {
						if n, ok := least[l]; !ok || s.Until[log(l)] < n {
							least[l] = s.Until[log(l)]
						}
					}
				case len(s.Until) == 0:
					standing = max(standing, roster.In)
				default:
					standing = max(standing, roster.Earlier)
					for l := range 3 {
						most[l] = max(most[l], s.Until[log(l)])
					}
				}
			}
			assert.Equal(t, standing, one.Membership(public(key(laptop))))
			for l := range 3 {
				n, whole := one.Until(public(key(laptop)), log(l))
				assert.Equal(t, standing == roster.Unknown || standing == roster.In, whole)
				assert.Equal(t, map[roster.Membership]uint64{roster.Out: least[l], roster.Earlier: most[l]}[standing], n)
			}
		}
		back, err := roster.ReadAnswer(one.Answer())
		require.NoError(t, err)
		require.Equal(t, one, back)
	})
}

// No bit of a statement, a request or an answer can be changed, and none is taken for
// another.
func TestWhatWasChangedIsRefused(t *testing.T) {
	s := say(t, 2, "truck", false, nil, 0)
	var r roster.Roster
	r.Add(s)
	q, err := roster.Request{Key: public(key(2)), Name: "truck"}.Bytes(func(b []byte) []byte { return ed25519.Sign(key(2), b) })
	require.NoError(t, err)
	reads := map[string]func([]byte) error{
		"statement": func(b []byte) error { _, err := roster.ReadStatement(b); return err },
		"request":   func(b []byte) error { _, err := roster.ReadRequest(b); return err },
		"answer":    func(b []byte) error { _, err := roster.ReadAnswer(b); return err },
	}
	texts := map[string][]byte{"statement": s.Bytes(), "request": q, "answer": r.Answer()}
	for name, text := range texts {
		for other, read := range reads {
			if name == other {
				require.NoError(t, read(text))
				require.NoError(t, read(bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))), "a mail program may change the ends of lines")
			} else {
				require.ErrorIs(t, read(text), roster.ErrText)
			}
		}
		for i := range text {
			for bit := range 8 {
				b := bytes.Clone(text)
				b[i] ^= 1 << bit
				if err := reads[name](b); err == nil {
					// Case of a hex digit, and white space at the ends, say the same.
					assert.True(t, strings.EqualFold(string(b), string(text)) || bytes.Equal(bytes.TrimSpace(b), bytes.TrimSpace(text)), "%s, byte %d", name, i)
				}
			}
		}
		for n := range text[:len(text)-1] {
			require.Error(t, reads[name](text[:n]))
		}
	}
	stranger, err := roster.Say(key(9), roster.Statement{Practice: practice(), Key: public(key(9)), Name: "thief"})
	require.ErrorIs(t, err, roster.ErrText, "only the practice's key lets in")
	assert.Zero(t, stranger)
}

func FuzzReadAnswer(f *testing.F) {
	var r roster.Roster
	r.Add(say(f, 2, "truck", true, map[signedlog.ID]uint64{{1}: 7}, 0))
	f.Add(r.Answer())
	f.Fuzz(func(t *testing.T, b []byte) {
		if r, err := roster.ReadAnswer(b); err == nil {
			again, err := roster.ReadAnswer(r.Answer())
			require.NoError(t, err)
			require.Equal(t, r, again)
		}
	})
}

// A statement is dated behind all that was said, whatever the clock shows.
func TestAStatementIsDatedBehindAllOthers(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	assert.Equal(t, now, roster.Roster{}.After(now))
	r := roster.Roster{Said: []roster.Statement{{At: now.Add(time.Hour)}, {At: now.AddDate(0, 0, -1)}}}
	assert.Equal(t, now.Add(time.Hour+time.Second), r.After(now))
	assert.Equal(t, now.AddDate(1, 0, 0), r.After(now.AddDate(1, 0, 0)))
}
