package nav_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

func TestWhatKeepsAVisitOpen(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	look := func() exam.Visit {
		v, err := store.Visit(id)
		require.NoError(t, err)
		return v
	}
	_, _, ok := nav.Unfinished(look(), screentest.Now())
	assert.False(t, ok)
	screentest.Rule(t, store, id, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
	screentest.NeedleIn(t, store, id)
	to, why, ok := nav.NeedleIn(look(), screentest.Now())
	require.True(t, ok)
	assert.Equal(t, nav.Address{Screen: nav.Injection, Horse: look().Horse.ID, Visit: id, Number: 1}, to)
	assert.Equal(t, "Needle inserted at 10:50 (injection of Vaccine A, neck triangle, left) and not recorded as removed.", why)
	west := screentest.Now().In(time.FixedZone("", -5*3600))
	_, why, _ = nav.NeedleIn(look(), west)
	assert.Contains(t, why, "Needle inserted at 05:50", "by the clock of now, wherever it was saved")

	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1, Afterwards: true}})
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	_, _, ok = nav.NeedleIn(look(), screentest.Now())
	assert.False(t, ok, "a watch is no needle")
	to, why, ok = nav.Unfinished(look(), west)
	assert.True(t, ok)
	assert.Contains(t, why, "until 06:")
	assert.Equal(t, nav.Watch, to.Screen)
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "a count"}}})
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular"}}})
	to, _, _ = nav.Unfinished(look(), screentest.Now())
	assert.Equal(t, nav.Address{Screen: nav.Draw, Horse: look().Horse.ID, Visit: id, Number: 1}, to, "a needle comes before a watch")
	_, err := deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: screentest.Now(), By: "Ann Bell"})
	var refusal *notation.Refusal
	require.ErrorAs(t, err, &refusal)
}
