package entry

import (
	"loosebox/exam"
	"loosebox/tui/layout"
)

// OneOf is the widget for one of several, with a label.
type OneOf struct {
	pick
}

// NewOneOf makes a list of a form with the key that is chosen now; empty for
// none. Its value is of the kind pick.
func NewOneOf(label string, choices []exam.Choice, chosen string, o Options) *OneOf {
	o.Before = nil
	step := exam.Step{Name: label, Kind: exam.KindPick, Choices: choices}
	c := &OneOf{pick: *newPick(step, o)}
	c.list.put(chosen)
	return c
}

// Chosen is the key of the choice under the cursor; empty where there is none.
func (c *OneOf) Chosen() string {
	chosen, _ := c.list.chosen()
	return chosen.Key
}

// Choose puts the cursor on the choice with the key, if there is one.
func (c *OneOf) Choose(key string) { c.list.put(key) }

// Line is the label and the choice on one line.
func (c *OneOf) Line(width int) string {
	chosen, _ := c.list.chosen()
	return layout.Cut(c.step.Name+": "+chosen.Words, width)
}
