package entry

import (
	"loosebox/exam"
	"loosebox/tui/layout"
)

// Choice is a list of a form: one of several, with a label.
type Choice struct {
	pick
}

// NewChoice makes a list of a form with the key that is chosen now; empty for
// none. Its value is of the kind pick.
func NewChoice(label string, choices []exam.Choice, chosen string, o Options) *Choice {
	o.Before = nil
	step := exam.Step{Name: label, Kind: exam.KindPick, Choices: choices}
	c := &Choice{pick: *newPick(step, o)}
	c.list.put(chosen)
	return c
}

// Chosen is the key of the choice under the cursor; empty where there is none.
func (c *Choice) Chosen() string {
	chosen, _ := c.list.chosen()
	return chosen.Key
}

// Choose puts the cursor on the choice with the key, if there is one.
func (c *Choice) Choose(key string) { c.list.put(key) }

// Line is the label and the choice on one line.
func (c *Choice) Line(width int) string {
	chosen, _ := c.list.chosen()
	return layout.Cut(c.step.Name+": "+chosen.Words, width)
}
