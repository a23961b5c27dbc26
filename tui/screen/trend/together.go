package trend

import (
	"slices"
	"time"

	"loosebox/exam"
	plots "loosebox/tui/chart"
	"loosebox/tui/layout"
)

// vital are the measures that are drawn above each other.
func vital() []exam.StepID { return []exam.StepID{"temp.rectal", "heart.rate", "breath.rate"} }

// moment is a visit on the axis of time.
type moment struct {
	visit exam.VisitID
	at    time.Time
}

// momentsOf are the visits that have a number in any of the measures, oldest first.
func momentsOf(all []*series) []moment {
	var out []moment
	for _, d := range all {
		for _, p := range d.points {
			m := moment{p.Visit, p.At}
			if !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b moment) int { return a.at.Compare(b.at) })
	return out
}

// times places the moments on an axis.
func (s *screen) times(width int) plots.Times {
	at := make([]time.Time, len(s.moments))
	for i, m := range s.moments {
		at[i] = m.at
	}
	return plots.NewTimes(at, width)
}

// measures are those that are drawn: the screen's own, or with the others that hold a number.
func (s *screen) measures() []*series {
	out := []*series{&s.data}
	if !s.together {
		return out
	}
	for i := range s.others {
		if len(s.others[i].points) > 0 {
			out = append(out, &s.others[i])
		}
	}
	return out
}

// leastRows is the least height of a plot; a measure that would get less is not drawn.
const leastRows = 2

// plots draws the measures above each other over one axis of time, each under its name where there are several.
func (s *screen) plots(size layout.Size) []string {
	x := s.times(size.W - side)
	all := s.measures()
	for len(all) > 1 && (size.H-2)/len(all)-1 < leastRows {
		all = all[:len(all)-1]
	}
	if len(all) == 1 {
		return append(s.plot(all[0], x, layout.Size{W: size.W, H: size.H - 2}), s.timeAxis(x)...)
	}
	var lines []string
	left := size.H - 2
	for i, d := range all {
		height := left / (len(all) - i)
		left -= height
		lines = append(lines, s.Deps.Theme.Heading.Render(layout.Cut(d.step.Name+", "+string(d.unit), size.W)))
		lines = append(lines, s.plot(d, x, layout.Size{W: size.W, H: height - 1})...)
	}
	return append(lines, s.timeAxis(x)...)
}
