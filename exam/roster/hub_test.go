package roster_test

import (
	"crypto/ed25519"
	"crypto/rand"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/roster"
)

// Where the practice meets: the statement that was made last counts, in whatever order
// they come, and none of them is a laptop.
func TestTheHubThatWasNamedLastCounts(t *testing.T) {
	public, private, err := ed25519.GenerateKey(rand.Reader)
	require.NoError(t, err)
	p := roster.Practice{Name: "Harrow Yard", Key: public}
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	say := func(minutes int, h roster.Hub) roster.Statement {
		s, err := roster.Say(private, roster.Statement{Practice: p, At: at.Add(time.Duration(minutes) * time.Minute), Hub: &h})
		require.NoError(t, err)
		return s
	}
	one, two, none := say(1, roster.Hub{Address: "a:1", Certificate: "x\n"}), say(2, roster.Hub{Address: "b:2", Certificate: "y\n"}), say(3, roster.Hub{})
	for _, order := range [][]roster.Statement{{one, two}, {two, one}} {
		var r roster.Roster
		for _, s := range order {
			require.True(t, r.Add(s))
		}
		h, ok := r.Hub()
		require.True(t, ok)
		assert.Equal(t, roster.Hub{Address: "b:2", Certificate: "y\n"}, h)
		assert.Empty(t, r.Laptops())
		assert.Equal(t, roster.Unknown, r.Membership(public))
		back, err := roster.ReadAnswer(r.Answer())
		require.NoError(t, err)
		h2, _ := back.Hub()
		assert.Equal(t, h, h2, "it travels with the answer")
		r.Add(none)
		_, ok = r.Hub()
		assert.False(t, ok)
	}
	_, err = roster.Say(private, roster.Statement{Practice: p, At: at, Hub: &roster.Hub{Address: "a\x1b[2J:1"}})
	require.ErrorIs(t, err, roster.ErrText)
}

// Whether the practice seals: what was said last counts, in whatever order it comes, also
// where both were said at once; it is of no laptop.
func TestWhetherItIsSealed(t *testing.T) {
	public, private, err := ed25519.GenerateKey(rand.Reader)
	require.NoError(t, err)
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	say := func(minutes int, on bool) roster.Statement {
		s, err := roster.Say(private, roster.Statement{Practice: roster.Practice{Name: "Harrow Yard", Key: public}, At: at.Add(time.Duration(minutes) * time.Minute), Sealed: &on})
		require.NoError(t, err)
		return s
	}
	on, off, same := say(1, true), say(2, false), say(2, true)
	of := func(list ...roster.Statement) roster.Roster {
		var r roster.Roster
		for _, s := range list {
			require.True(t, r.Add(s))
		}
		require.Empty(t, r.Laptops())
		back, err := roster.ReadAnswer(r.Answer())
		require.NoError(t, err)
		require.Equal(t, r.Sealed(), back.Sealed(), "it travels with the answer")
		return r
	}
	assert.False(t, roster.Roster{}.Sealed())
	assert.True(t, of(on).Sealed())
	assert.False(t, of(on, off).Sealed())
	assert.False(t, of(off, on).Sealed())
	assert.Equal(t, of(on, off, same).Sealed(), of(same, on, off).Sealed())
	_, hub := of(on).Hub()
	assert.False(t, hub)
}
