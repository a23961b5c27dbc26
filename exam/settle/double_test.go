package settle_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/settle"
)

func born(year int, p exam.BirthPrecision) exam.Birth {
	return exam.Birth{At: time.Date(year, 5, 4, 0, 0, 0, 0, time.UTC), Precision: p}
}

// Horses are proposed by what tells them from others, and by nothing that many share.
func TestWhichHorsesMayBeOne(t *testing.T) {
	for name, c := range map[string]struct {
		one, other exam.Horse
		why        string // empty where they are not proposed
	}{
		"chip": {
			exam.Horse{Name: "A", Chip: "001012345678901"}, exam.Horse{Name: "B", Chip: "001 012345678901"}, "They have the same chip.",
		},
		"no chip": {exam.Horse{Name: "A"}, exam.Horse{Name: "A"}, ""},
		"both numbers": {
			exam.Horse{Chip: "001012345678901", UELN: "990001001234567"},
			exam.Horse{Chip: "001012345678901", UELN: "990 001 001234567"},
			"They have the same chip and the same UELN.",
		},
		"name alone":     {exam.Horse{Name: "Bella", Owner: "Lund"}, exam.Horse{Name: "Bella", Owner: "Berg"}, ""},
		"name and owner": {exam.Horse{Name: "Bella", Owner: "A Lund"}, exam.Horse{Name: "bella ", Owner: "a  lund"}, "They have the same name and owner."},
		"and birth": {
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2017, exam.BornYear)},
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2017, exam.BornDay)},
			"They have the same name, owner and birth date.",
		},
		"another birth": {
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2017, exam.BornYear)}, exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2021, exam.BornYear)}, "",
		},
		"mare and foal of a name": {
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: exam.Birth{Precision: exam.BornAdult}},
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: exam.Birth{Precision: exam.BornFoal}},
			"",
		},
		"by the teeth": {
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2016, exam.BornEstimated)},
			exam.Horse{Name: "Bella", Owner: "Lund", Birth: born(2017, exam.BornDay)},
			"They have the same name, owner and birth date.",
		},
	} {
		t.Run(name, func(t *testing.T) {
			c.one.ID, c.other.ID = "a", "b"
			list := []exam.Found{{Horse: c.other}, {Horse: exam.Horse{ID: "c", Name: "Other", Owner: "Lund"}}, {Horse: c.one}}
			got := settle.Doubles(list, nil)
			if c.why == "" {
				assert.Empty(t, got)
				return
			}
			require.Len(t, got, 1)
			assert.Equal(t, c.why, got[0].Why())
			assert.Equal(t, exam.HorseID("a"), got[0].One.ID)
			said := exam.Joinings{{Horses: []exam.HorseID{"b", "a"}, Apart: true}}
			assert.Empty(t, settle.Doubles(list, said), "somebody said that they are two")
		})
	}
}

// A record of a joined horse speaks for all of it, and ten thousand horses are looked
// through while the home screen is drawn.
func TestARecordOfAJoinedHorseIsProposedToo(t *testing.T) {
	joined := exam.Horse{ID: "a", Chip: "2", Joined: []exam.Horse{{ID: "a", Chip: "2"}, {ID: "b", Chip: "1"}}}
	list := []exam.Found{{Horse: joined}, {Horse: exam.Horse{ID: "c", Chip: "1"}}}
	for i := range 10000 {
		list = append(list, exam.Found{Horse: exam.Horse{ID: exam.HorseID(fmt.Sprint("z", i)), Name: fmt.Sprint("n", i), Owner: "Lund"}})
	}
	require.Len(t, settle.Doubles(list, nil), 1)
	assert.Empty(t, settle.Doubles(list, exam.Joinings{{Horses: []exam.HorseID{"b", "c"}, Apart: true}}))
}

// What was saved while two were one is named when they are parted.
func TestWhatCountsForNeitherIsNamed(t *testing.T) {
	h := exam.Horse{ID: "a", Name: "Bella", Markings: "star", Owner: "Lund", Joined: []exam.Horse{{ID: "a", Name: "Bella"}, {ID: "b", Name: "Bela", Owner: "Lund"}}}
	assert.Equal(t, []string{"markings star"}, settle.OnlyJoined(h))
}
