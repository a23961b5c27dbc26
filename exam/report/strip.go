package report

import (
	"fmt"

	"loosebox/exam"
)

// stripSeconds is how much time one line of a strip holds, the unit in which the
// trade counts; breaths are slower and get a minute.
const (
	stripSeconds  = 15.0
	breathSeconds = 60.0
)

// Strip draws the taps of a count against time, a stroke a tap, one line for
// every 15 s of beats or every minute of breaths, so that a long gap or a double
// is seen. Lines are width columns wide; lead-in taps are drawn as dots. There
// is none for a count that was not tapped.
func Strip(c *exam.Count, breaths bool, width int) []string {
	if c == nil || len(c.TapsS) < 2 || width < 24 {
		return nil
	}
	span := stripSeconds
	if breaths {
		span = breathSeconds
	}
	const label = 6
	cols := width - label
	first := c.TapsS[0]
	n := int((c.TapsS[len(c.TapsS)-1]-first)/span) + 1
	if n > 40 { // ten minutes: what is drawn ends there
		n = 40
	}
	rows := make([][]byte, n)
	for i := range rows {
		rows[i] = make([]byte, cols)
		for j := range rows[i] {
			rows[i][j] = ' '
		}
	}
	for i, at := range c.TapsS {
		row := int((at - first) / span)
		if row >= n {
			break
		}
		col := min(int((at-first-float64(row)*span)/span*float64(cols)), cols-1)
		sign := byte('|')
		if i < c.LeadIn {
			sign = '.'
		}
		rows[row][col] = sign
	}
	out := make([]string, n)
	for i, row := range rows {
		out[i] = fmt.Sprintf("%4.0f s", float64(i)*span) + string(row)
	}
	return out
}
