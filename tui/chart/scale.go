package chart

import (
	"strings"

	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// leastZone is the width of a stretch that has no number beside it.
const leastZone = 5

// Scale draws a range as a line of width columns, and under it its limits as numbers. The usual zone is a double line; the
// others carry the sign of their level. A value, if not nil, is a block on the line. The zones are as wide as their numbers
// need, so the line is not to scale. Both lines are empty where the width is too small.
func Scale(t *theme.Theme, zones []ranges.Zone, value *float64, width int) (line, limits string) {
	wide := widths(zones, width)
	if wide == nil {
		return "", ""
	}
	mark := -1
	if value != nil {
		mark = place(zones, wide, *value)
	}
	var over, under strings.Builder
	at, written := 0, 0
	for i, z := range zones {
		style := t.Limit(z.Level)
		if i > 0 {
			text := layout.PadLeft("", max(at-len(z.Text)/2-written, 0)) + z.Text
			written += len(text)
			under.WriteString(t.Limit(outer(zones, i)).Render(text))
		}
		cells := stretch(t, z, i > 0, wide[i])
		if mark < at || mark >= at+wide[i] {
			over.WriteString(style.Render(strings.Join(cells, "")))
		} else {
			over.WriteString(style.Render(strings.Join(cells[:mark-at], "")))
			over.WriteString(t.Level(z.Level).Bold(t.Name != theme.Plain).Render(t.Sign.Block))
			over.WriteString(style.Render(strings.Join(cells[mark-at+1:], "")))
		}
		at += wide[i]
	}
	return over.String(), under.String()
}

// outer is the level that begins at the limit before zone i: the graver of its two sides.
func outer(zones []ranges.Zone, i int) ranges.Level { return max(zones[i-1].Level, zones[i].Level) }

// stretch is the cells of a zone: its limit, then its line with its sign in the middle.
func stretch(t *theme.Theme, z ranges.Zone, edge bool, wide int) []string {
	fill := t.Sign.Line
	if z.Level == ranges.LevelUsual && !z.Open {
		fill = t.Sign.Within
	}
	cells := make([]string, wide)
	for i := range cells {
		cells[i] = fill
	}
	if z.Level >= ranges.LevelRecheck {
		cells[wide/2] = theme.Mark(z.Level)
	}
	if edge {
		cells[0] = t.Sign.Edge
	}
	return cells
}

// widths divides a width over zones: each holds half of the numbers at its ends and a blank, and the usual one, or else
// the middle one, takes what is left. Nil where there is too little.
func widths(zones []ranges.Zone, width int) []int {
	if len(zones) < 2 {
		return nil
	}
	out := make([]int, len(zones))
	widest, left := len(zones)/2, width
	for i, z := range zones {
		next := ""
		if i+1 < len(zones) {
			next = zones[i+1].Text
		}
		out[i] = max((len(z.Text)+1)/2+(len(next)+1)/2+1, leastZone)
		if z.Level == ranges.LevelUsual {
			widest = i
		}
		left -= out[i]
	}
	if left < 0 {
		return nil
	}
	out[0] += left / 6
	out[len(out)-1] += left / 6
	out[widest] += left - left/6*2
	return out
}

// place is the column of a value: in proportion between the limits of its zone, and in an outer zone at the scale of the
// inner zones.
func place(zones []ranges.Zone, wide []int, value float64) int {
	in, at := 0, 0
	for i := range zones[1:] {
		next := zones[i+1]
		last := zones[i].Level == ranges.LevelUsual && next.Level == ranges.LevelNote // an upper usual limit is usual itself
		if value < next.From || last && value == next.From {
			break
		}
		in = i + 1
		at += wide[i]
	}
	inner := zones[len(zones)-1].From - zones[1].From
	share := 0.5
	switch {
	case in > 0 && in+1 < len(zones):
		share = (value - zones[in].From) / (zones[in+1].From - zones[in].From)
	case inner > 0 && in == 0:
		share = 1 - (zones[1].From-value)/inner
	case inner > 0:
		share = (value - zones[in].From) / inner
	}
	first := 1 // the limit itself stays in sight
	if in == 0 {
		first = 0
	}
	return at + min(max(int(share*float64(wide[in])), first), wide[in]-1)
}
