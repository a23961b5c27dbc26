package progress

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// Wrong on day 0: due on day 1. Right on day 1: due two days later, on day 3; right again: four days on. Wrong again: back
// to the first box. Five times right after a fault: it is not asked any more.
func TestWhatWentWrongComesAgain(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 3, 1+n, 9, 0, 0, 0, time.UTC) }
	gut := []exam.StepID{"gut.sounds"}
	at := func(n int, wrong bool) Rehearsal {
		p := Rehearsal{At: day(n), Finished: true, Steps: gut}
		if wrong {
			p.Faults = []rehearse.Fault{{Kind: rehearse.FaultHurried, Step: "gut.sounds"}}
		}
		return p
	}
	due := func(points ...Rehearsal) []Due { // given in time, kept the newest first
		p := Person{}
		for _, x := range points {
			p.Points = append([]Rehearsal{x}, p.Points...)
		}
		return p.Due()
	}
	assert.Empty(t, due(at(0, false)), "never wrong")
	for _, c := range []struct {
		points []Rehearsal
		box    int
		day    int
	}{
		{[]Rehearsal{at(0, true)}, 1, 1},
		{[]Rehearsal{at(0, true), at(1, false)}, 2, 3},
		{[]Rehearsal{at(0, true), at(1, false), at(3, false)}, 3, 7},
		{[]Rehearsal{at(0, true), at(1, false), at(3, true)}, 1, 4},
	} {
		got := due(c.points...)
		require.Len(t, got, 1)
		assert.Equal(t, c.box, got[0].Box)
		assert.Equal(t, day(c.day), got[0].At)
	}
	assert.Empty(t, due(at(0, true), at(1, false), at(3, false), at(7, false), at(15, false), at(31, false)), "through all boxes")
}
