package rehearse

import (
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

// What laziness is worth, over all cases (of three seeds each where LOOSEBOX_LONG is set), in percent of the points. Written down before: nobody who
// did not examine gets more than a tenth; answers out of the air never reach half of the pass mark of 70; "usual" at everything that is looked at, heard or felt, by somebody who measures honestly and is safe, does not
// pass on any horse that shows something else, and has less than 45 in the mean. On a horse that is usual wherever it is not
// measured "usual" is right.
func TestWhatLazinessIsWorth(t *testing.T) {
	random := func(c int) Slips { return Slips{AtRandom: rand.New(rand.NewPCG(uint64(c), 7))} } //nolint:gosec // counts from 0
	seeds := uint64(1)
	if os.Getenv("LOOSEBOX_LONG") != "" {
		seeds = 3
	}
	type lazy struct {
		name       string
		slips      func(c int) Slips
		most, mean float64
	}
	for _, l := range []lazy{
		{"passes over all", func(int) Slips { return Slips{PassedAll: string(exam.ReasonNoTime)} }, 5, 2},
		{"stops after one place", func(int) Slips { return Slips{Unfinished: 1} }, 10, 5},
		{"a second a place", func(int) Slips { return Slips{HurriedS: 1} }, 10, 5},
		{"usual, a second a place", func(int) Slips { return Slips{UsualAll: true, HurriedS: 1} }, 10, 5},
		{"random", random, 35, 20},
		{"usual everywhere", func(int) Slips { return Slips{UsualAll: true} }, 65, 45},
	} {
		sum, n, high, where := 0.0, 0, 0.0, ""
		for i, c := range builtInCases(t) {
			for seed := uint64(1); seed <= seeds; seed++ {
				m := marked(t, horse(t, c.Name, seed), c.Routine, l.slips(i))
				if l.name == "usual everywhere" && !missed(m) {
					assert.Greater(t, m.Score.Percent, 90.0, "%s: all that is not usual is measured", c.Name)
					continue
				}
				if sum, n = sum+m.Score.Percent, n+1; m.Score.Percent > high {
					high, where = m.Score.Percent, c.Name
				}
			}
		}
		t.Logf("%-24s at most %2.0f %% (%s), mean %2.0f %%, of %d", l.name, high, where, sum/float64(n), n)
		assert.LessOrEqual(t, high, l.most, "%s: %s", l.name, where)
		assert.LessOrEqual(t, sum/float64(n), l.mean, l.name)
	}
}

// missed says that something that stands out, or had to be found, was called otherwise.
func missed(m Marks) bool {
	for _, f := range m.Findings {
		if f.Outcome == OutcomeWrong && (f.Level > ranges.LevelUsual || m.mustFind(f)) {
			return true
		}
	}
	return false
}

// Who examines well and is wrong at one place that is usual loses that place and what a wrong answer takes off, and no more;
// a missed finding costs its points and its share of the usual answers.
func TestOneMistakeStaysOne(t *testing.T) {
	h := horse(t, "linnet", 3)
	perfect := marked(t, h, h.Case.Routine, Slips{})
	k := exam.Key{Step: "gum.colour"}
	require.Equal(t, "pink", h.word(k))
	one := marked(t, h, h.Case.Routine, Slips{Wrong: map[exam.Key]string{k: "brick"}})
	assert.InDelta(t, 2, perfect.Score.Points-one.Score.Points, 1e-9, one.Score.InParts())
}
