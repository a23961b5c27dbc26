package trend

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// The heights of the plot, its two lines of axis included.
const (
	leastPlot = 8
	mostPlot  = 20
)

// leastWidth is the width below which only the list is drawn.
const leastWidth = 40

func (s *screen) draw(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	head := s.legend(size.W)
	foot := s.foot(size)
	room := size.H - len(head) - len(foot)
	var body []string
	switch {
	case len(s.data.points) == 0, size.W < leastWidth, room < leastPlot/2:
		body = s.listing(layout.Size{W: size.W, H: room})
	case room >= leastPlot+4 && !s.together:
		height := min(max(room*3/5, leastPlot), mostPlot)
		body = s.plots(layout.Size{W: size.W, H: height})
		body = append(body, s.listing(layout.Size{W: size.W, H: room - height})...)
	default:
		body = s.plots(layout.Size{W: size.W, H: room})
	}
	body = layout.Fit(body, layout.Size{W: size.W, H: max(room, 0)})
	lines := append(append(head, body...), foot...)
	lines = lines[:min(len(lines), max(size.H, 0))]
	for i := range lines {
		lines[i] = layout.Cut(lines[i], size.W)
	}
	return strings.Join(lines, "\n")
}

// legend says what the signs of the plot mean, and the own range in numbers.
func (s *screen) legend(width int) []string {
	t, d := s.Deps.Theme, &s.data
	if len(d.points) == 0 {
		return []string{t.Faint.Render(layout.Cut(fmt.Sprintf("%s, newest first; %s", notation.Counted(len(d.lines), "visit"), marks()), width))}
	}
	parts := []string{t.Sign.Point + " usual", marks()}
	if d.banded() {
		parts = append([]string{t.Sign.Band + " class range"}, parts...)
	}
	lines := []string{t.Faint.Render(layout.Cut(strings.Join(parts, "  "), width))}
	if s.together {
		return lines
	}
	if d.own != nil {
		text := fmt.Sprintf("%s this horse's range %s, from %s", t.Sign.Bar, d.with(notation.Between(d.own.Low, d.own.High, 1)), notation.Counted(d.own.Visits, "earlier visit"))
		lines = append(lines, t.Faint.Render(layout.Cut(text, width)))
	}
	if low, high, ok := s.still(); ok {
		p := s.point()
		text := fmt.Sprintf("%s no change on %s would be %s", t.Sign.Same, exam.DatesOf(d.visits...).Show(p.At), d.with(notation.Between(low, high, d.step.Decimals)))
		lines = append(lines, t.Faint.Render(layout.Cut(text, width)))
	}
	return lines
}

// point is the number of the visit under the cursor; nil where it has none.
func (s *screen) point() *compare.TrendPoint {
	d := &s.data
	if len(d.lines) == 0 {
		return nil
	}
	for i := range d.points {
		if d.points[i].Visit == d.lines[s.cursor.Cursor].visit {
			return &d.points[i]
		}
	}
	return nil
}

// still is the band in which the number under the cursor is no change against the one before; false where too little is
// known for one.
func (s *screen) still() (low, high float64, ok bool) {
	p := s.point()
	if p == nil || p.Change.By == nil || p.Change.Verdict == compare.NotKnown || p.Change.Verdict == compare.NoVerdict || !p.Change.Noise.Complete() {
		return 0, 0, false
	}
	before, limit, fine := p.Value-*p.Change.By, p.Change.Noise.Limit, math.Pow10(-s.data.step.Decimals)
	low, high = math.Ceil((before-limit)/fine-1e-6)*fine, math.Floor((before+limit)/fine+1e-6)*fine // as finely as it is measured
	return low, high, low <= high
}

func marks() string {
	return fmt.Sprintf("%s %s  %s %s  %s %s", theme.Mark(ranges.LevelNote), ranges.LevelNote, theme.Mark(ranges.LevelRecheck), ranges.LevelRecheck, theme.Mark(ranges.LevelTell), ranges.LevelTell)
}

func (d *series) banded() bool {
	for _, p := range d.points {
		if p.Low != nil || p.High != nil {
			return true
		}
	}
	return false
}

// listing is a line for every visit that was asked.
func (s *screen) listing(size layout.Size) []string {
	t := s.Deps.Theme
	return s.cursor.Draw(len(s.data.lines), size.H, func(i int, here bool) string {
		l := s.data.lines[i]
		date := l.at.Format("2 Jan 2006 15:04") + "  "
		if here {
			return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+date+l.mark+" "+l.text+more(l), size.W))
		}
		return layout.Cut("  "+date+t.Level(l.level).Render(l.mark+" "+l.text)+more(l), size.W)
	})
}

func more(l line) string {
	if l.more == "" {
		return ""
	}
	return " · " + l.more
}

// foot is what is known of the visit under the cursor. Its height
// does not change as the cursor moves.
func (s *screen) foot(size layout.Size) []string {
	t := s.Deps.Theme
	l := s.data.lines[s.cursor.Cursor]
	text := l.at.Format("2 Jan 2006 15:04") + ": " + l.text
	if l.level > ranges.LevelUsual {
		text += "; " + l.level.String()
	}
	if l.more != "" {
		text += "; " + l.more
	}
	if l.change != "" {
		text += "; " + l.change
	}
	height := 2
	var lines []string
	for _, text := range []string{text} {
		lines = append(lines, layout.Wrap(notation.CleanNote(text), size.W)...)
	}
	if len(lines) > height {
		lines = append(lines[:height-1], layout.Cut(lines[height-1], size.W-3)+" ..")
	}
	return append([]string{t.Across(size.W)}, layout.Fit(lines, layout.Size{W: size.W, H: height})...)
}
