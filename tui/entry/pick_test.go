package entry

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
)

func gums() exam.Step {
	return exam.Step{ID: "gum.colour", Name: "Gum color", Kind: exam.KindPick, Choices: []exam.Choice{
		{Key: "pink", Words: "pale pink to pink", Hint: "as seen in daylight"},
		{Key: "pale", Words: "pale", Hint: "nearly white"},
		{Key: "red", Words: "red", Hint: "brick red all over"},
		{Key: "ring", Words: "dark line along the teeth", Hint: "purple or red, above the incisors"},
		{Key: "yellow", Words: "yellow"},
		{Key: "blue", Words: "blue or gray"},
	}}
}

func long(n int) exam.Step {
	s := exam.Step{ID: "x", Name: "Long", Kind: exam.KindPick}
	for i := range n {
		s.Choices = append(s.Choices, exam.Choice{Key: fmt.Sprint("k", i+1), Words: fmt.Sprint("choice ", i+1)})
	}
	return s
}

func TestPickByDigitAndArrow(t *testing.T) {
	f := New(gums(), options(&clock{noon()}))
	require.Equal(t, Taken, send(f, "enter"), "enter alone answers nothing")
	assert.Contains(t, screen(f, 52, 12), "nothing is chosen yet")
	require.Equal(t, Accepted, send(f, "4", "enter"))
	assert.Equal(t, []string{"ring"}, value(t, f).Words)
	require.Equal(t, Accepted, send(f, "up", "up", "enter"))
	assert.Equal(t, []string{"pale"}, value(t, f).Words)
	f = New(gums(), options(&clock{noon()}))
	require.Equal(t, Accepted, send(f, "down", "enter"))
	assert.Equal(t, []string{"pink"}, value(t, f).Words)
	assert.Equal(t, Taken, send(f, "9"), "a digit without a line does nothing")
	assert.Equal(t, []string{"pink"}, value(t, f).Words)
	for _, k := range []string{"u", "x", "space", "left", "tab", "backspace"} {
		assert.Equal(t, Ignored, send(f, k), k)
	}
	r, _ := f.Press(paste("4"))
	assert.Equal(t, Ignored, r, "pasted text is no key")
}

func TestPickScrollsAndTheTenthIsZero(t *testing.T) {
	f := New(long(12), options(&clock{noon()}))
	send(f, "0")
	assert.Equal(t, []string{"k10"}, value(t, f).Words)
	lines := f.View(layout.Size{W: 34, H: 7})
	assert.LessOrEqual(t, len(lines), 7)
	assert.Contains(t, screen(f, 34, 7), "> 0 choice 10")
	assert.Contains(t, screen(f, 34, 7), "of 12")
	send(f, "end")
	assert.Equal(t, []string{"k12"}, value(t, f).Words)
}

func TestPickForACorrection(t *testing.T) {
	o := options(&clock{noon()})
	o.Before = &exam.Value{Kind: exam.KindPick, Words: []string{"red"}}
	f := New(gums(), o)
	assert.Equal(t, []string{"red"}, value(t, f).Words)
	assert.Contains(t, screen(f, 52, 12), "now: red")
}

func TestPickGolden(t *testing.T) {
	f := New(gums(), options(&clock{noon()}))
	golden(t, "pick-empty", f)
	send(f, "4")
	golden(t, "pick", f)
	f = New(long(30), options(&clock{noon()}))
	send(f, "end", "up")
	golden(t, "pick-long", f)
}
