package rehearse

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"loosebox/exam/ownfile"
)

// Pairs that textbooks work through: kitten and sitting 3, Saturday and Sunday 3 (Wagner & Fischer's table as printed in
// courses), intention and execution 5 (Jurafsky & Martin, Speech and Language Processing, minimum edit distance with
// replacements at cost 1), flaw and lawn 2, GUMBO and GAMBOL 2: from memory.
func TestEditsOfTextbookPairs(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"Saturday", "Sunday", 3},
		{"intention", "execution", 5},
		{"flaw", "lawn", 2},
		{"GUMBO", "GAMBOL", 2},
		{"", "", 0},
		{"", "abc", 3},
		{"abc", "abc", 0},
	} {
		assert.Equal(t, c.want, ownfile.Changes([]byte(c.a), []byte(c.b)), "%s %s", c.a, c.b)
		assert.Equal(t, c.want, ownfile.Changes([]byte(c.b), []byte(c.a)), "%s %s", c.b, c.a)
	}
}

func TestKendallAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := 2; n < 40; n++ {
		ranks := r.Perm(n)
		x, y := make([]float64, n), make([]float64, n)
		for i, v := range ranks {
			x[i], y[i] = float64(i), float64(v)
		}
		tau, ok := kendall(ranks)
		assert.True(t, ok)
		assert.InDelta(t, stat.Kendall(x, y, nil), tau, 1e-12)
	}
	tau, _ := kendall([]int{0, 1, 2, 3})
	assert.InDelta(t, 1, tau, 0)
	tau, _ = kendall([]int{3, 2, 1, 0})
	assert.InDelta(t, -1, tau, 0)
	_, ok := kendall([]int{5})
	assert.False(t, ok)
}

// The strays are the fewest whose taking out leaves a rising list: tried against every subset of short lists.
func TestStraysAreTheFewest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "n")
		ranks := rapid.Permutation(slices.Sorted(slices.Values(makeRange(n)))).Draw(t, "ranks")
		fewest := n
		for set := range 1 << n {
			var kept []int
			for i, v := range ranks {
				if set&(1<<i) != 0 {
					kept = append(kept, v)
				}
			}
			if slices.IsSorted(kept) {
				fewest = min(fewest, n-len(kept))
			}
		}
		out := strays(ranks)
		if len(out) != fewest {
			t.Fatalf("%v: %v, fewest %d", ranks, out, fewest)
		}
	})
}

func makeRange(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
