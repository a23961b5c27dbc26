package compare

import (
	"strings"

	"loosebox/ranges"
	"loosebox/tui/layout"
)

// widths are the columns of the table for a window; own and change are 0 where there is no room.
type widths struct{ label, usual, own, change, past, visit, visits int }

// mostVisit is the widest a visit's column gets where there are fewer visits
// than would fit.
const mostVisit = 26

// leastVisits is how many visits a wide window shows at least before it shows words whole.
const leastVisits = 3

// columns divides a width. Wants is the longest finding: a wide window holds it whole, and fewer visits.
func columns(width, visits, wants int) widths {
	w := widths{label: 15, usual: 10, past: 4, visit: 12}
	switch {
	case width >= 110:
		w = widths{label: 20, usual: 10, own: 10, change: 7, past: 9, visit: 13}
	case width >= 76:
		w = widths{label: 19, usual: 10, past: 6, visit: 12}
	}
	room := width - w.side()
	if width >= 90 {
		w.visit = min(max(wants+1, w.visit), max(room/leastVisits-1, w.visit), mostVisit)
	}
	w.visits = max(room/(w.visit+1), 1)
	if visits > 0 && visits < w.visits {
		w.visits = visits
	}
	w.visit = max(min(room/w.visits-1, mostVisit), 2)
	return w
}

// side is what stands before the visits, each column with a space behind it.
func (w widths) side() int {
	n := 2
	for _, wide := range []int{w.label, w.usual, w.own, w.change, w.past} {
		if wide > 0 {
			n += wide + 1
		}
	}
	return n
}

func (w widths) line(label, usual, own, change, past string) string {
	out := ""
	for _, c := range []struct {
		text string
		wide int
	}{{label, w.label}, {usual, w.usual}, {own, w.own}, {change, w.change}, {past, w.past}} {
		if c.wide > 0 {
			out += layout.Pad(c.text, c.wide) + " "
		}
	}
	return out
}

// header names the columns: the day and hour of each visit, and under them its level and
// how much of it was answered.
func (s *screen) header(w widths, last, height int) []string {
	t := s.Deps.Theme
	named := s.table.Dates()
	dates, times, levels := "  "+w.line("", "usual", "this horse", "change", "past"), "  "+w.line("", "", "", "", ""), "  "+w.line("level so far", "", "", "", "")
	covered := "  " + w.line("answered", "", "", "", "")
	for i := s.first; i < last; i++ {
		c := s.table.Columns[i]
		sign := " "
		if i == s.column {
			sign = t.Sign.Cursor
		}
		day, hour := c.At.Format("2 Jan 2006"), c.At.Format("15:04")
		if text := named.Show(c.At); strings.HasSuffix(text, c.At.Format("15:04:05")) {
			hour = c.At.Format("15:04:05")
		}
		dates += layout.Pad(sign+day, w.visit) + " "
		times += layout.Pad(" "+hour, w.visit) + " "
		word := c.Level.String()
		switch {
		case c.Open:
			word = "not finished"
		case c.Level == ranges.LevelUsual && !s.answered(i):
			word = ""
		}
		if len(word) < w.visit { // "tell the vet" is whole before it is lined up
			word = " " + word
		}
		levels += layout.Pad(word, w.visit) + " "
		covered += layout.Pad(" "+c.Coverage.Short(), w.visit) + " "
	}
	lines := []string{t.Heading.Render(strings.TrimRight(dates, " "))}
	for _, l := range []string{times, levels, covered} {
		lines = append(lines, t.Faint.Render(strings.TrimRight(l, " ")))
	}
	if height < lowBody {
		return lines[:3]
	}
	return lines
}

// lowBody is the height under which how much was answered has no line.
const lowBody = 17
