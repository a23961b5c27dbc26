package entry

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

func pain() exam.Step {
	return exam.Step{
		ID: "pain.signs", Name: "Signs of pain", Kind: exam.KindMarks, Alone: []string{"none"},
		Choices: []exam.Choice{
			{Key: "none", Words: "none seen"},
			{Key: "flank", Words: "looks at its flank"},
			{Key: "paws", Words: "paws", Hint: "one forefoot, again and again"},
			{Key: "rolls", Words: "rolls"},
		},
	}
}

// at presses space so many milliseconds after noon.
func at(f Widget, space func(time.Time) keys.Press, ms int) {
	f.Press(space(noon().Add(time.Duration(ms) * time.Millisecond)))
}

func TestMarksBySpace(t *testing.T) {
	for system, space := range spaces() {
		f := New(pain(), options(&clock{noon()}))
		require.Equal(t, Taken, send(f, "enter"), "at least one mark: "+system)
		send(f, "2")
		at(f, space, 0)
		send(f, "4")
		at(f, space, 1000)
		require.Equal(t, Accepted, send(f, "enter"))
		assert.Equal(t, []string{"flank", "rolls"}, value(t, f).Words)
		at(f, space, 2500)
		assert.Equal(t, []string{"flank"}, value(t, f).Words, "space again clears it")
	}
}

func TestMarksThatStandAlone(t *testing.T) {
	f := New(pain(), options(&clock{noon()}))
	for i, k := range []string{"2", "3", "1"} {
		send(f, k)
		at(f, unixSpace, i*2000)
	}
	assert.Equal(t, []string{"none"}, value(t, f).Words, "none clears the others")
	send(f, "3")
	at(f, unixSpace, 9000)
	assert.Equal(t, []string{"paws"}, value(t, f).Words, "and any other clears none")
}

// A held key: the first repeat after 500 ms, then one every 33 ms.
func TestMarksCountAHeldKeyOnce(t *testing.T) {
	for system, space := range spaces() {
		f := New(pain(), options(&clock{noon()}))
		send(f, "2")
		at(f, space, 0)
		for ms := 500; ms < 2500; ms += 33 {
			at(f, space, ms)
		}
		assert.Equal(t, []string{"flank"}, value(t, f).Words, system)
	}
}

func TestMarksForACorrection(t *testing.T) {
	o := options(&clock{noon()})
	o.Before = &exam.Value{Kind: exam.KindMarks, Words: []string{"paws", "rolls"}}
	f := New(pain(), o)
	assert.Equal(t, []string{"paws", "rolls"}, value(t, f).Words)
	golden(t, "marks-correction", f)
}

func condition() exam.Step {
	return exam.Step{ID: "condition.score", Name: "Condition", Kind: exam.KindScale, Choices: []exam.Choice{
		{Key: "4", Score: 4, Words: "moderately thin", Hint: "ribs just traced"},
		{Key: "4.5", Score: 4.5, Words: "between 4 and 5"},
		{Key: "5", Score: 5, Words: "moderate", Hint: "ribs felt but not seen"},
	}}
}

func TestScaleByScoreAndArrow(t *testing.T) {
	f := New(condition(), options(&clock{noon()}))
	require.Equal(t, Taken, send(f, "enter"))
	require.Equal(t, Accepted, send(f, "5", "enter"))
	v := value(t, f)
	assert.Equal(t, []string{"5"}, v.Words)
	assert.Equal(t, notation.Quantity{Value: 5, Unit: notation.Points}, *v.Number)
	require.Equal(t, Accepted, send(f, "up", "enter"))
	assert.InDelta(t, 4.5, value(t, f).Number.Value, 0, "half scores by arrow")
	send(f, "9")
	assert.InDelta(t, 4.5, value(t, f).Number.Value, 0, "no such score")
	zero := condition()
	zero.Choices = append([]exam.Choice{{Key: "0", Score: 0, Words: "none"}}, zero.Choices...)
	f = New(zero, options(&clock{noon()}))
	require.Equal(t, Accepted, send(f, "0", "enter"))
	assert.InDelta(t, 0, value(t, f).Number.Value, 0)
}

func TestMarksAndScaleGolden(t *testing.T) {
	f := New(pain(), options(&clock{noon()}))
	send(f, "3")
	at(f, unixSpace, 0)
	golden(t, "marks", f)
	f = New(condition(), options(&clock{noon()}))
	send(f, "5")
	golden(t, "scale", f)
}

// The list has what the sex of the horse can have; a mark of another sex that is stored stands last, to be taken back.
func TestMarksOfASex(t *testing.T) {
	step := pain()
	step.Choices[1].Of = []exam.Sex{exam.Mare}
	o := options(&clock{noon()})
	o.Horse.Sex = exam.Gelding
	f := New(step, o)
	assert.NotContains(t, flat(f), "looks at its flank")
	send(f, "2")
	at(f, unixSpace, 0)
	assert.Equal(t, []string{"paws"}, value(t, f).Words, "numbered as it is shown")

	o.Before = &exam.Value{Kind: exam.KindMarks, Words: []string{"flank"}}
	f = New(step, o)
	assert.Contains(t, flat(f), "[x] looks at its flank")
	send(f, "2")
	at(f, unixSpace, 0)
	send(f, "4")
	at(f, unixSpace, 2000)
	assert.Equal(t, []string{"paws"}, value(t, f).Words)
}
