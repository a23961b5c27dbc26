package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/settle"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// One laptop joins two horses, another says that they are two: on both they are one, both lines are listed to be settled, and
// whoever holds both settles it for both, one way or the other.
func TestJoinedHereAndTwoThere(t *testing.T) {
	for _, apart := range []bool{false, true} {
		truck, _ := newRecord(t)
		office, _ := newRecord(t)
		a, b := saveHorse(t, truck, "Bramble"), saveHorse(t, truck, "Brambel")
		meet := func() {
			t.Helper()
			for _, way := range [][2]*storage.Record{{truck, office}, {office, truck}} {
				_, err := way[1].Adopt(context.Background(), feed(segmentsOf(t, way[0])))
				require.NoError(t, err)
			}
		}
		listed := func(r *storage.Record) (out []settle.Matter) {
			t.Helper()
			list, err := settle.List(r, steps.Table(), day())
			require.NoError(t, err)
			for _, m := range list {
				if m.Kind == exam.UnsettledParted {
					out = append(out, m)
				}
			}
			return out
		}
		meet()
		at := day().Add(time.Hour)
		require.NoError(t, truck.Join(exam.Joining{Horses: []exam.HorseID{a.ID, b.ID}, By: "Ben", At: at, Why: "same chip"}))
		require.NoError(t, office.Join(exam.Joining{Horses: []exam.HorseID{b.ID, a.ID}, Apart: true, By: "Ann", At: at.Add(time.Minute)}))
		assert.Empty(t, listed(truck))
		assert.Empty(t, listed(office))
		meet()
		for _, r := range []*storage.Record{truck, office} {
			one, err := r.Horse(b.ID)
			require.NoError(t, err)
			assert.Len(t, one.Joined, 2, "they stay one")
			list := listed(r)
			require.Len(t, list, 1)
			assert.Equal(t, []exam.HorseID{b.ID, a.ID}, []exam.HorseID{list[0].Horse, list[0].Other})
			assert.Equal(t, `One horse: Ben, `+at.Format("2 Jan 2006 15:04")+`, "same chip". Two horses: Ann, `+at.Add(time.Minute).Format("2 Jan 2006 15:04")+
				". Neither knew of the other. They are one until somebody decides.", list[0].Text)
		}
		decision := exam.Joining{Horses: []exam.HorseID{b.ID, a.ID}, Apart: apart, By: "Eva", At: at.Add(time.Hour)}
		require.NoError(t, office.Join(decision))
		assert.Empty(t, listed(office))
		meet()
		assert.Empty(t, listed(truck))
		both, err := truck.Horses()
		require.NoError(t, err)
		assert.Len(t, both, map[bool]int{false: 1, true: 2}[apart])
		if !apart {
			assert.ErrorContains(t, truck.Join(decision), "one horse in the record already", "said once")
		}
		report, err := truck.Check(context.Background())
		require.NoError(t, err)
		assert.Empty(t, report.Broken)
	}
}
