package judge_test

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// A practice's own row judges instead of the built-in one, and says whose it is.
func TestAPracticesRowShowsAsThePractices(t *testing.T) {
	const file = `measure,class,unit,usual_low,usual_high,usual_source,usual_evidence,recheck_low,recheck_high,recheck_source,recheck_evidence,tell_low,tell_high,tell_source,tell_evidence,words
heart.rate,adult light horse,/min,26,40,our yard,,,46,our yard,,,56,our yard,,Horses in training.
`
	table, err := builtIn(t).With(strings.NewReader(file), "own.csv")
	require.NoError(t, err)
	j := judge.New(table, numbers())
	f := measured("heart.rate", 57, notation.PerMinute)
	r, ok := j.Finding(adult(t, f), f, nil)
	require.True(t, ok)
	assert.True(t, r.Practice)
	assert.Equal(t, ranges.PracticeOwn, r.Evidence)
	assert.Equal(t, "our yard", r.Source)
	assert.Equal(t, "tell the vet from 56", r.Crossed)
	assert.Equal(t, ranges.LevelTell, r.Level)
	step, _ := numbers().ByID("heart.rate")
	text, ok := j.Range(adult(t).Class(), step, notation.PerMinute)
	require.True(t, ok)
	assert.True(t, text.Practice)
	assert.Equal(t, "26-40 /min", text.Usual)
	low := measured("heart.rate", 20, notation.PerMinute)
	r, _ = j.Finding(adult(t, low), low, nil)
	assert.Equal(t, ranges.LevelNote, r.Level, "a limit the practice left empty is no limit")
}

// What the exam screen shows of a range, in the unit preferred; why none is shown; nothing where none is thinkable.
func TestRangeText(t *testing.T) {
	j := onlyNumbers(t)
	step, _ := numbers().ByID("temp.rectal")
	c, ok := j.Range(adult(t).Class(), step, notation.Celsius)
	require.True(t, ok)
	assert.Equal(t, "36.5-38.3 C", c.Usual)
	f, _ := j.Range(adult(t).Class(), step, notation.Fahrenheit)
	assert.Equal(t, "97.7-101.0 F", f.Usual)
	assert.Equal(t, ranges.Published, f.Evidence)
	assert.Contains(t, f.Line, "tell the vet")
	other, _ := j.Range(adult(t).Class(), step, notation.NoUnit)
	assert.Equal(t, notation.Celsius, other.Unit)
	tent, _ := numbers().ByID("skin.tent")
	none, ok := j.Range(exam.Class{Name: ranges.DonkeyAdult}, tent, notation.Seconds)
	assert.False(t, ok)
	assert.Contains(t, none.Why, "donkey, adult")
	weight, _ := numbers().ByID("weight.body")
	none, ok = j.Range(adult(t).Class(), weight, notation.Kilograms)
	assert.False(t, ok)
	assert.Empty(t, none)
}

// One judge serves many goroutines; run with the race detector.
func TestAJudgeIsSharedFreely(t *testing.T) {
	j := whole(t)
	v := fullVisit(t)
	want := j.Visit(v, nil)
	var wait sync.WaitGroup
	for range 4 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			assert.Equal(t, want, j.Visit(v, nil))
		}()
	}
	wait.Wait()
}
