package progress

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/layout"
)

// The plot: numbers at the left, a bar and a gap for each rehearsal, and the least height that shows anything.
const (
	axisWide  = 7
	barWide   = 2
	leastPlot = 4
)

// plotHeight leaves the table its rows, and the plot half of the room at least and 14 lines at most.
func plotHeight(room, rows int) int { return min(max(room/2, room-rows-1), 14) }

// plot draws the chosen measure over a person's finished rehearsals, the oldest at the left, as many as there is room for.
// The first line says what is drawn and where it goes.
func (s *screen) plot(p progress.Person, size layout.Size) []string {
	if size.H < leastPlot || size.W < axisWide+8 {
		return nil
	}
	m := s.measures[s.measure]
	points := p.Finished()
	points = points[:min(len(points), (size.W-axisWide-1)/(barWide+1))]
	slices.Reverse(points)
	values := make([]float64, len(points))
	high := 0.0
	for i, point := range points {
		v, ok := m.Of(point)
		if values[i] = v; !ok {
			values[i] = math.NaN()
			continue
		}
		high = max(high, v)
	}
	lines := []string{layout.Cut(s.plotTitle(p, m), size.W)}
	rows := size.H - 2
	for r := range rows {
		lines = append(lines, s.plotRow(m, values, high, rows, r))
	}
	return append(lines, s.plotAxis(points, len(values)))
}

func (s *screen) plotTitle(p progress.Person, m progress.Measure) string {
	trend := s.sumOf(p).trends[s.measure]
	text := m.Title + ", less is better: " + trend.Direction.String()
	if trend.Slope != nil && trend.Direction != progress.TooFew {
		finer := m
		finer.Decimals++
		slope := finer.Text(*trend.Slope)
		if *trend.Slope > 0 {
			slope = "+" + slope
		}
		chance := "p " + notation.FormatNumber(*trend.P, 2)
		if *trend.P < 0.01 {
			chance = "p under 0.01"
		}
		text += fmt.Sprintf(" (%s each time, newest %d, %s)", slope, trend.Of, chance)
	}
	return s.Deps.Theme.Strong.Render(text)
}

// plotRow is one row of the bars, row 0 at the top. A value of nothing has a dot at the bottom, no value has none.
func (s *screen) plotRow(m progress.Measure, values []float64, high float64, rows, row int) string {
	t := s.Deps.Theme
	label := ""
	switch row {
	case 0:
		label = notation.FormatNumber(high, m.Decimals)
	case rows - 1:
		label = "0"
	}
	if high == 0 && row == 0 && rows > 1 {
		label = ""
	}
	var b strings.Builder
	for _, v := range values {
		sign := " "
		switch {
		case math.IsNaN(v):
		case high > 0 && v/high*float64(rows) > float64(rows-1-row)+0.25: // a bar of a quarter row and more is drawn
			sign = t.Sign.Block
		case row == rows-1:
			sign = t.Sign.Point
		}
		b.WriteString(" " + strings.Repeat(sign, barWide))
	}
	return layout.PadLeft(label, axisWide-1) + " " + t.Sign.Bar + b.String()
}

// plotAxis has the day of the first and of the last rehearsal that is drawn.
func (s *screen) plotAxis(points []progress.Rehearsal, bars int) string {
	if len(points) == 0 {
		return strings.Repeat(" ", axisWide+1) + " no finished rehearsal"
	}
	first, last := notation.ShownOn(points[0].At, s.Deps.Now()), notation.ShownOn(points[len(points)-1].At, s.Deps.Now())
	lead := strings.Repeat(" ", axisWide+2)
	if wide := bars * (barWide + 1); len(points) > 1 && wide > len(first)+len(last)+1 {
		return s.Deps.Theme.Faint.Render(lead + layout.Ends(first, last, wide))
	}
	if first != last {
		first += " to " + last
	}
	return s.Deps.Theme.Faint.Render(lead + first)
}
