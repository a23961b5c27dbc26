package judge_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

func worked(v exam.Visit, states ...exam.State) exam.Visit {
	v.Context.States = append([]exam.State{exam.StateWorked}, states...)
	return v
}

// 64 beats just after a trot are counted again, with nothing else out of range; beyond the lines or with any other sign
// they are told at once (FEI endurance rule: 64 within 20 min; YOUNES15; RC02).
func TestJustWorked(t *testing.T) {
	j := whole(t)
	for name, c := range map[string]struct {
		find  []exam.Finding
		level exam.Level
	}{
		"64 beats":                       {fs{heart(64)}, ranges.LevelRecheck},
		"80 beats":                       {fs{heart(80)}, ranges.LevelRecheck},
		"81 beats":                       {fs{heart(81)}, ranges.LevelTell},
		"64 beats and 40 breaths":        {fs{heart(64), breaths(40)}, ranges.LevelRecheck},
		"60 breaths, easy":               {fs{heart(64), breaths(60), said("breath.effort", "0")}, ranges.LevelRecheck},
		"60 breaths, laboured":           {fs{heart(64), breaths(60), said("breath.effort", "2")}, ranges.LevelTell},
		"with a temperature":             {fs{heart(64), tempC(39.3)}, ranges.LevelTell},
		"with a noted temperature":       {fs{heart(64), tempC(38.5)}, ranges.LevelTell},
		"with tacky gums":                {fs{heart(64), said("gum.moisture", "tacky")}, ranges.LevelTell},
		"with pink gums and a good gait": {fs{heart(64), said("gum.colour", "pink"), said("gait.look", "even")}, ranges.LevelRecheck},
		"temperature alone":              {fs{tempC(39.3)}, ranges.LevelTell},
	} {
		verdict := j.Visit(worked(adult(t, c.find...)), nil)
		assert.Equal(t, c.level.String(), verdict.Level.String(), "%s: %v", name, verdict.Remarks)
	}
	v := adult(t, heart(64))
	for _, s := range []exam.State{exam.StateExcited, exam.StateTravelled, exam.StateHot, exam.StateRest} {
		v.Context.States = []exam.State{s}
		assert.Equal(t, ranges.LevelTell, j.Visit(v, nil).Level, "%s lowers nothing", s)
	}
	foal := worked(visitOf(horseOf(t, ranges.FoalToSixMonths), heart(130)))
	assert.Equal(t, ranges.LevelTell, j.Visit(foal, nil).Level, "a foal does no work")
}

// At the gates: still above 64 after 20 min, above 60 after 30 min, or rising, is told; a rate that came down in time is
// not. The earlier count stands in the same visit or in one before it.
func TestAfterWorkTheRateHasItsTime(t *testing.T) {
	j := whole(t)
	for _, c := range []struct {
		then, now float64
		minutes   int
		level     exam.Level
	}{
		{72, 66, 15, ranges.LevelRecheck},
		{72, 66, 20, ranges.LevelTell},
		{72, 64, 20, ranges.LevelRecheck},
		{72, 62, 30, ranges.LevelTell},
		{72, 60, 30, ranges.LevelRecheck},
		{64, 72, 5, ranges.LevelTell}, // rising
		{64, 66, 5, ranges.LevelRecheck},
		{72, 50, 20, ranges.LevelRecheck}, // by its own row
		{72, 66, 200, ranges.LevelRecheck},
	} {
		f := heart(c.now)
		f.At = day().Add(time.Duration(c.minutes) * time.Minute)
		first := heart(c.then)
		first.At = day()
		f.Before = []exam.Finding{first}
		assert.Equal(t, c.level.String(), j.Visit(worked(adult(t, f)), nil).Level.String(), "same visit: %+v", c)

		e := worked(before(horseOf(t, ranges.AdultLight), time.Duration(c.minutes)*time.Minute, heart(c.then)))
		assert.Equal(t, c.level.String(), j.Visit(worked(adult(t, heart(c.now))), []exam.Visit{e}).Level.String(), "earlier visit: %+v", c)
	}
}

// What is said of a rate just after work stands beside the sources of its times, and is common practice as the weakest of them.
func TestARateAfterWorkNamesTheSourcesOfItsTimes(t *testing.T) {
	j, table := whole(t), builtIn(t)
	v := adult(t, heart(64))
	v.Context = exam.Context{States: []exam.State{exam.StateWorked}}
	verdict := j.Visit(v, nil)
	require.Len(t, verdict.Remarks, 1)
	r := verdict.Remarks[0]
	assert.Equal(t, ranges.LevelRecheck, r.Level)
	assert.Contains(t, r.Why, "above 64 at 20 min or above 60 at 30 min")
	assert.Equal(t, table.Cite("BREUER")+"; after work: "+table.Cite("FEI20MIN")+"; "+table.Cite("RC02"), r.Source)
	assert.Equal(t, ranges.CommonPractice, r.Evidence)
}
