package home

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// mostOpen is how many lines the visits that are not finished take at most.
const mostOpen = 4

func (s *screen) View(size layout.Size) string {
	lines := s.notices(size.W)
	if !s.Loaded {
		return join(append(lines, "Reading the record .."), size)
	}
	if len(s.horses) == 0 && len(s.open) == 0 && len(s.checks) == 0 {
		return join(append(lines, s.firstRun(layout.Size{W: size.W, H: size.H - len(lines)})...), size)
	}
	if len(s.checks) > 0 && s.checks[0].due(s.Deps.Now()) {
		lines = append(append(lines, s.drawOpen(size)...), s.drawRound(size)...)
	} else {
		lines = append(append(lines, s.drawRound(size)...), s.drawOpen(size)...)
	}
	lines = append(lines, s.drawHorses(layout.Size{W: size.W, H: size.H - len(lines)})...)
	return join(lines, size)
}

func join(lines []string, size layout.Size) string {
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

// notices are a problem with a file, a clock that is behind, and the word that this is a demo.
func (s *screen) notices(width int) []string {
	t := s.Deps.Theme
	var lines []string
	if problem := strings.TrimSpace(s.Deps.Problem + " " + s.refused); problem != "" {
		for i, line := range layout.Wrap(t.Sign.NotDone+" "+notation.CleanLine(problem, 0), width) {
			if i < 3 {
				lines = append(lines, t.Error.Render(layout.Pad(line, width)))
			}
		}
	}
	if text := exam.ClockBehind(s.newest, s.Deps.Now()); text != "" {
		for _, line := range layout.Wrap(theme.Caution+" "+text, width) {
			lines = append(lines, t.Warn.Render(layout.Pad(line, width)))
		}
	}
	if s.Deps.Demo {
		lines = append(lines, t.Warn.Render(layout.Pad("demo: a temporary copy; invented horses", width)))
	}
	return lines
}

// firstRun is six lines, once, while nothing is recorded: what to press first, and what the
// program is not.
func (s *screen) firstRun(size layout.Size) []string {
	t := s.Deps.Theme
	lines := []string{""}
	for _, text := range []string{
		"i  take the tour first: five minutes with an invented horse",
		"n  add your first horse: a name is enough",
		"?  every key of a screen, and what it does",
	} {
		lines = append(lines, t.Strong.Render(layout.Pad(text, size.W)))
	}
	lines = append(lines, "")
	for _, text := range []string{
		"loosebox makes no diagnosis and names no drug and no dose: the veterinarian decides.",
		"When a horse looks ill, call the veterinarian; do not wait.",
		"Horses kick, strike and crush. Stay on your feet. Skip what is not safe.",
	} {
		lines = append(lines, layout.Wrap(text, size.W)...)
	}
	return lines
}

func (s *screen) drawOpen(size layout.Size) []string {
	if s.opens == 0 {
		s.top.Height = 0
		return nil
	}
	t := s.Deps.Theme
	head := "not finished"
	if len(s.checks) > 0 {
		head = "to do"
	}
	lines := []string{t.Heading.Render(layout.Pad(head, size.W))}
	s.top.Cursor = s.cursor.Cursor
	lines = append(lines, s.top.Draw(s.opens, min(mostOpen, s.opens, max(size.H/3, 1)), func(i int, _ bool) string {
		r := s.shown[i]
		if r.at.IsZero() {
			text := r.line(size.W - 4)
			if r.held != nil {
				text = r.held.line(size.W - 4) // behind cursor and caution signs
			}
			return s.mark(i, s.caution(r.found.Horse, i == s.cursor.Cursor)+" "+text, size.W)
		}
		late := r.due(s.Deps.Now())
		line := s.mark(i, s.caution(r.found.Horse, late || i == s.cursor.Cursor)+" "+s.checkLine(r, size.W-4), size.W)
		if late && i != s.cursor.Cursor {
			line = t.Warn.Render(line)
		}
		return line
	})...)
	if below := s.top.Below(s.opens); below > 0 || s.top.Above() > 0 {
		lines[0] = t.Heading.Render(layout.Pad(fmt.Sprintf("%s (%d)", head, s.opens), size.W))
	}
	return append(lines, "")
}

// mark puts the cursor sign before a line.
func (s *screen) mark(i int, text string, width int) string {
	t := s.Deps.Theme
	if i == s.cursor.Cursor {
		return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+text, width))
	}
	return layout.Pad("  "+text, width)
}

// caution is the sign of a horse with cautions; in its color, but not in a line that has one of its own.
func (s *screen) caution(h exam.Horse, quiet bool) string {
	switch {
	case len(h.Cautions) == 0:
		return " "
	case quiet:
		return theme.Caution
	}
	return s.Deps.Theme.Caution.Render(theme.Caution)
}

func (s *screen) drawHorses(size layout.Size) []string {
	t, w := s.Deps.Theme, columns(size.W)
	var lines []string
	if s.finding || s.find.Text != "" {
		line := "find: " + s.find.Text
		if s.finding {
			line += "_"
		}
		found := fmt.Sprintf("%d of %d", len(s.shown)-s.opens, len(s.horses))
		lines = append(lines, t.Strong.Render(layout.Ends(line, found, size.W)))
	}
	lines = append(lines, t.Heading.Render(layout.Pad("    "+w.line(fmt.Sprintf("horse (%d)", len(s.horses)), "kind, age", "owner", "location", "last visit"), size.W)))
	count := len(s.shown) - s.opens
	if count == 0 {
		return append(lines, "  no horse has that in name, owner, location, breed or number")
	}
	room := max(size.H-len(lines)-1, 1)
	s.bottom.Cursor, s.cursor.Height = s.cursor.Cursor-s.opens, room
	now := s.Deps.Now()
	lines = append(lines, s.bottom.Draw(count, room, func(i int, _ bool) string {
		r, here := s.shown[s.opens+i], s.opens+i == s.cursor.Cursor
		told := s.told[r.found.Horse.ID] > 0
		line := s.mark(s.opens+i, s.caution(r.found.Horse, told || here)+" "+s.horseLine(r, w, now), size.W)
		if told && !here {
			line = t.Limit(ranges.LevelTell).Render(line)
		}
		return line
	})...)
	for len(lines) < size.H-1 {
		lines = append(lines, "")
	}
	return append(lines, t.Faint.Render(layout.Ends(s.detail(), s.position(count), size.W)))
}

func (s *screen) horseLine(r *row, w widths, now time.Time) string {
	h := r.found.Horse
	what := fmt.Sprintf("%s, %s", h.Kind, h.AgeWords(now))
	return w.line(notation.CleanLine(h.Name, 0), what, notation.CleanLine(h.Owner, 0), notation.CleanLine(h.Place, 0), s.last(r.found, now))
}

// detail is what the narrow list has no column for, of the row under the cursor.
func (s *screen) detail() string {
	r, ok := s.here()
	if !ok {
		return ""
	}
	h := r.found.Horse
	var parts []string
	for _, p := range []struct{ lead, text string }{{"owner ", h.Owner}, {"", h.Place}, {"chip ", h.Chip}} {
		if text := notation.CleanLine(p.text, 0); text != "" {
			parts = append(parts, p.lead+text)
		}
	}
	if len(h.Cautions) > 0 {
		parts = append([]string{theme.Caution + " " + notation.CleanLine(strings.Join(h.Cautions, ", "), 0)}, parts...)
	}
	return strings.Join(parts, " · ")
}

func (s *screen) position(count int) string {
	if count <= s.bottom.Height {
		return ""
	}
	return fmt.Sprintf("%d of %d", max(s.cursor.Cursor-s.opens, 0)+1, count)
}

// widths are the columns of the list of horses; 0 leaves a column out.
type widths struct{ name, what, owner, place, last int }

func columns(width int) widths {
	w := widths{last: 12}
	room := width - 4 - w.last // cursor and caution signs stand before
	switch {
	case width < 76:
		w.name, w.what = room-25, 23
	case width < 110:
		w.name, w.what, w.owner = 20, 23, room-46
	default:
		w.name, w.what, w.owner = 26, 26, min((room-56)/2, 30)
		w.place = min(room-56-w.owner, 50)
	}
	return w
}

func (w widths) line(name, what, owner, place, last string) string {
	parts := []string{layout.Pad(name, w.name), layout.Pad(what, w.what)}
	if w.owner > 0 {
		parts = append(parts, layout.Pad(owner, w.owner))
	}
	if w.place > 0 {
		parts = append(parts, layout.Pad(place, w.place))
	}
	return strings.Join(append(parts, layout.Pad(last, w.last)), " ")
}

// last says when the horse was seen last, or that the veterinarian has to be told of it.
func (s *screen) last(f exam.Found, now time.Time) string {
	switch {
	case s.told[f.Horse.ID] > 0:
		return ranges.LevelTell.String()
	case f.Open != "":
		return "not finished"
	case f.LastAt.IsZero():
		return "no visit yet"
	case notation.SameDay(f.LastAt, now):
		return "today " + notation.Clock(f.LastAt, now)
	}
	return notation.ShownOn(f.LastAt, now)
}
