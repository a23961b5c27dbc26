package demo_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/demo"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// The yard that the demo promises: 8 to 12 animals from two days to thirty
// years, with 3 to 12 visits each and some findings out of range.
func TestYardKeepsItsPromise(t *testing.T) {
	now := time.Date(2026, 4, 10, 9, 30, 0, 0, time.UTC)
	table := steps.Table()
	built, err := ranges.BuiltIn()
	require.NoError(t, err)
	j := judge.New(built, table)
	yard, err := demo.Yard(now, table, steps.Routines())
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(yard), 8)
	require.LessOrEqual(t, len(yard), 12)
	kinds, levels := map[exam.AnimalKind]bool{}, map[exam.Level]int{}
	for _, a := range yard {
		kinds[a.Horse.Kind] = true
		assert.GreaterOrEqual(t, len(a.Visits), 3, a.Horse.Name)
		assert.LessOrEqual(t, len(a.Visits), 12, a.Horse.Name)
		_, err := exam.ReadChip(a.Horse.Chip)
		require.NoError(t, err)
		for i, entries := range a.Visits {
			v := fold(t, a.Horse, entries)
			assert.True(t, v.OpenedAt.Before(now))
			if i > 0 {
				assert.True(t, a.Visits[i-1][0].At.Before(v.OpenedAt), "visits are in order")
			}
			levels[j.Visit(v, nil).Level]++
		}
	}
	for _, k := range exam.Animals() {
		assert.True(t, kinds[k], "no %s in the yard", k)
	}
	assert.Positive(t, levels[ranges.LevelTell])
	assert.Positive(t, levels[ranges.LevelUsual]+levels[ranges.LevelNote])
	again, err := demo.Yard(now, table, steps.Routines())
	require.NoError(t, err)
	assert.Equal(t, yard, again, "the same yard every time")
}

// What follows the exam of the treated animal could have been written on a screen:
// every entry is admitted after those before it.
func TestTheTreatedAnimalWasTreatedByTheRules(t *testing.T) {
	now := time.Date(2026, 4, 10, 9, 30, 0, 0, time.UTC)
	table := steps.Table()
	built, err := ranges.BuiltIn()
	require.NoError(t, err)
	j := judge.New(built, table)
	yard, err := demo.Yard(now, table, steps.Routines())
	require.NoError(t, err)
	admitted := 0
	for _, a := range yard {
		for _, entries := range a.Visits {
			for n := 2; n < len(entries); n++ {
				e := entries[n]
				if e.Injection == nil && e.Draw == nil && e.Watch == nil && e.Decision == nil {
					continue
				}
				v := fold(t, a.Horse, entries[:n])
				require.NoError(t, authorization.CheckEntry(v, j.Visit(v, nil).Remarks, e), "%s, entry %d", a.Horse.Name, n+1)
				admitted++
			}
		}
		if a.Horse.Name == demo.Treated {
			v := fold(t, a.Horse, a.Visits[len(a.Visits)-1])
			require.Len(t, v.Injections, 3)
			assert.Len(t, v.Injections[0].Attempts, 2)
			assert.Len(t, v.Draws[0].Filled, 3)
			assert.Empty(t, v.Watching())
		}
	}
	assert.Greater(t, admitted, 20)
}

func fold(t *testing.T, h exam.Horse, entries []exam.Entry) exam.Visit {
	t.Helper()
	var prev exam.Hash
	list := append([]exam.Entry(nil), entries...)
	opening := *list[0].Opening
	opening.Horse = h
	list[0].Opening = &opening
	for i := range list {
		list[i].Visit, list[i].Seq, list[i].Prev = "v", i+1, prev
		err := exam.Seal(&list[i])
		require.NoError(t, err)
		prev = list[i].Hash
	}
	v, err := exam.Fold(list)
	require.NoError(t, err)
	return v
}

// What was rehearsed can be marked: one person gets better, one is good, one rehearsal is not finished.
func TestRehearsalsOfTheDemo(t *testing.T) {
	now := time.Date(2026, 4, 10, 9, 30, 0, 0, time.UTC)
	table := steps.Table()
	built, err := ranges.BuiltIn()
	require.NoError(t, err)
	cases, err := rehearse.Cases(table, built)
	require.NoError(t, err)
	reader := progress.Reader{Cases: cases, Routines: steps.Routines(), Steps: table, Ranges: built, Judge: judge.New(built, table)}
	list, err := demo.Rehearsals(now, table, built, steps.Routines())
	require.NoError(t, err)
	store := examtest.NewRehearsals()
	for _, a := range list {
		require.Len(t, a.Visits, 1)
		h, err := store.SaveHorse(a.Horse, "demo", now)
		require.NoError(t, err)
		entries := a.Visits[0]
		entries[0].Opening.Horse = h
		v, err := store.Begin(entries[0])
		require.NoError(t, err)
		assert.True(t, v.OpenedAt.Before(now))
		for _, e := range entries[1:] {
			e.Visit = v.ID
			_, err := store.Append(e)
			require.NoError(t, err)
		}
	}
	points, not, err := reader.Read(store)
	require.NoError(t, err)
	assert.Empty(t, not)
	people := progress.People(points)
	require.Len(t, people, 2)
	missed := progress.Measures()[slices.IndexFunc(progress.Measures(), func(m progress.Measure) bool { return m.Name == "missed" })]
	assert.Equal(t, progress.Better, people[1].Trend(missed).Direction)
	assert.Len(t, people[1].Finished(), 6)
	assert.Len(t, people[0].Finished(), 3)
	assert.Empty(t, people[1].Points[0].Faults, "the newest is without a fault")
}

// A step that is added draws no number of another: every other answer of the yard, and the end of every exam, stays.
func TestAnAddedStepMovesNoOther(t *testing.T) {
	now := time.Date(2026, 4, 10, 9, 30, 0, 0, time.UTC)
	added := exam.Step{
		ID: "added", Name: "Added", Short: "added", System: exam.SystemGeneral, Kind: exam.KindCount, Heard: "heart",
		Unit: notation.PerMinute, Units: []notation.Unit{notation.PerMinute}, Possible: exam.Span{Low: 1, High: 300}, Likely: exam.Span{Low: 20, High: 200},
	}
	table := exam.NewSteps(append([]exam.Step{added}, steps.Table().All()...))
	routines := steps.Routines()
	for i := range routines {
		routines[i].Asks = append([]exam.Ask{{Step: "added", Sites: []exam.Site{exam.NoSite}}}, routines[i].Asks...)
	}
	before, err := demo.Yard(now, steps.Table(), steps.Routines())
	require.NoError(t, err)
	after, err := demo.Yard(now, table, routines)
	require.NoError(t, err)
	answers := 0
	for i, a := range before {
		for n, entries := range a.Visits {
			was := map[exam.Key]*exam.Value{}
			for _, e := range entries {
				was[exam.Key{Step: e.Step, Site: e.Site}] = e.Value
			}
			seen := 0
			for _, e := range after[i].Visits[n] {
				if e.Kind == exam.EntryFinding && e.Step != "added" {
					answers++
					seen++
					assert.Equal(t, was[exam.Key{Step: e.Step, Site: e.Site}], e.Value, "%s, visit %d: %s", a.Horse.Name, n+1, e.Step)
				}
			}
			last, now := entries[len(entries)-1], after[i].Visits[n][len(after[i].Visits[n])-1]
			if last.Kind == exam.EntryClosed {
				assert.Equal(t, last.At, now.At, "%s, visit %d ends as before", a.Horse.Name, n+1)
				assert.Equal(t, len(entries)+1, len(after[i].Visits[n]))
			}
			assert.Positive(t, seen)
		}
	}
	assert.Greater(t, answers, 1000)
}
