package entry

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

func byArea() exam.Step {
	s, _ := steps.Table().ByID("condition.score")
	return s
}

func bySign() exam.Step {
	s, _ := steps.Table().ByID("pain.grimace")
	return s
}

func TestConditionAtOnceStaysTwoKeys(t *testing.T) {
	f := New(byArea(), options(&clock{noon()}))
	require.Equal(t, Accepted, send(f, "5", "enter"))
	v := value(t, f)
	assert.Equal(t, []string{"5"}, v.Words)
	assert.Empty(t, v.Parts)
	require.Equal(t, Accepted, send(f, "6", ".", "enter"))
	v = value(t, f)
	assert.Equal(t, 6.5, v.Number.Value)
	assert.Contains(t, screen(f, 52, 12), "6.5 between moderately fleshy and fleshy")
	send(f, ".")
	assert.Equal(t, 6.0, value(t, f).Number.Value, "the point takes the half away again")
	send(f, ".", "down")
	assert.Equal(t, 7.0, value(t, f).Number.Value, "an arrow goes to whole scores")
	send(f, "9", ".")
	assert.Equal(t, 9.0, value(t, f).Number.Value, "nothing lies above nine")
}

// The mean of 5, 5, 6, 4.5, 5.5 and 5 is 31 over six.
func TestConditionByAreas(t *testing.T) {
	f := New(byArea(), options(&clock{noon()}))
	assert.Equal(t, Taken, send(f, "right", "enter"))
	assert.Contains(t, flat(f), "no area is scored yet")
	send(f, "5", "5", "6", "4", ".", "5", ".")
	assert.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, flat(f), "not scored: tailhead")
	require.Equal(t, Accepted, send(f, "5", "enter"))
	v := value(t, f)
	assert.Equal(t, map[string]float64{"neck": 5, "withers": 5, "shoulder": 6, "ribs": 4.5, "loin": 5.5, "tailhead": 5}, v.Parts)
	assert.Equal(t, []string{"5"}, v.Words)
	assert.Contains(t, flat(f), "score 5, the mean of 6 areas is 5.17")
	send(f, "0")
	assert.Contains(t, flat(f), "0 is no score of one area: 1 to 9, halves too")

	o := options(&clock{noon()})
	o.Before = &v
	f = New(byArea(), o)
	assert.Equal(t, v.Parts, value(t, f).Parts, "a correction begins with the areas")
	send(f, "right", "7")
	assert.Empty(t, value(t, f).Parts, "at once again")
	send(f, "right")
	assert.Equal(t, v.Parts, value(t, f).Parts, "what was begun stays")
}

func TestGrimaceBySigns(t *testing.T) {
	f := New(bySign(), options(&clock{noon()}))
	send(f, "1", "2", "0", "3")
	assert.Contains(t, flat(f), "3 is no score of one sign: 0 to 2")
	send(f, "down", "1", "0")
	assert.Contains(t, flat(f), "sum 4 to 6, 5 of 6 signs scored")
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, flat(f), "1 sign missing: the sum is 4 or more. Enter again saves it")
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.Equal(t, exam.AtLeast, v.Bound)
	assert.Equal(t, map[string]float64{"ears": 1, "lids": 2, "brow": 0, "mouth": 1, "nostrils": 0}, v.Parts)
	send(f, "up", "up", "0")
	require.Equal(t, Accepted, send(f, "enter"), "all six: nothing to ask")
	assert.Equal(t, exam.NoBound, value(t, f).Bound)
	send(f, "backspace")
	assert.NotContains(t, value(t, f).Parts, "jaw", "the score that was given last")
	send(f, ".")
	assert.Equal(t, Ignored, send(f, "."), "a sign has no halves")
	send(f, "left", "7")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, 7.0, value(t, f).Number.Value)
	assert.Empty(t, value(t, f).Parts)
}

func TestPartsGolden(t *testing.T) {
	f := New(byArea(), options(&clock{noon()}))
	golden(t, "areas-at-once", f)
	send(f, "right", "5", "5", "6", ".")
	golden(t, "areas", f)
	f = New(bySign(), options(&clock{noon()}))
	send(f, "1", "1", "0")
	golden(t, "signs", f)
	send(f, "enter")
	golden(t, "signs-left-out", f)
}
