package ranges

import "slices"

// Zone is an interval of values that have one level in a row, in the row's unit. It begins at From and ends where the
// next zone begins; the first one has no lower end.
type Zone struct {
	Level Level
	Open  bool    // LevelUsual only because the row has no usual range and no limit is crossed
	From  float64 // no meaning in the first zone
	Text  string  // From as it is written, without its unit; empty in the first zone
}

// Zones are the intervals of the row's levels in rising order, for drawing them as a line.
func (r Row) Zones() []Zone {
	var edges []float64
	for _, l := range r.limits() {
		for _, side := range []string{SideLow, SideHigh} {
			if v, ok := l.Edge(side); ok {
				edges = append(edges, v)
			}
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	if len(edges) == 0 {
		return nil
	}
	out := []Zone{{Level: r.levelOf(edges[0] - 1)}}
	for i, from := range edges {
		inside := from + 1
		if i+1 < len(edges) {
			if edges[i+1]-from < step+slack { // usual to 2.0, recheck from 2.1: no value lies between
				continue
			}
			inside = (from + edges[i+1]) / 2
		}
		if level := r.levelOf(inside); level != out[len(out)-1].Level {
			out = append(out, Zone{Level: level, From: from, Text: number(from, r.Unit)})
		}
	}
	for i := range out {
		out[i].Open = out[i].Level == LevelUsual && r.Usual.Empty()
	}
	return out
}

// levelOf is the level of a value, without the limit and side.
func (r Row) levelOf(v float64) Level {
	level, _, _ := r.Level(v)
	return level
}
