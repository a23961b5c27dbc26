package flow

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// TakeScan answers "right horse" where the chip of the horse was read. Where it was
// another horse's, that answer is taken back if it was given; the root stops
// everything and says so.
func (c *Checks) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	at := slices.IndexFunc(c.points, func(p needle.Point) bool { return p.Key == "horse" })
	if at < 0 {
		return nil, false
	}
	switch {
	case scan.Wrong():
		if c.given[at].OK {
			c.given[at], c.at, c.words = exam.Checked{}, at, nil
			c.s.Say("The answer to the first point is taken back: the chip of another horse was read.")
		}
		return nil, true
	case !scan.Right():
		return nil, false
	}
	c.given[at] = exam.Checked{Key: c.points[at].Key, OK: true, Words: needle.ChipRead}
	if c.words == nil {
		c.at = c.next(c.at)
	}
	c.s.Say(scan.Words())
	return nil, true
}

// Light of a check list is what is typed where words are asked; a letter answers.
func (c *Checks) Light(p keys.Press) bool { return c.words != nil && c.words.Light(p) }

// Keep keeps the words.
func (c *Checks) Keep() func() {
	if c.words == nil {
		return func() {}
	}
	return c.words.Keep()
}
