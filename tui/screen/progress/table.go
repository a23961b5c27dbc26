package progress

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
)

// The widths of the table.
const (
	measureWide = 8
	dateWide    = 18 // with minutes, and a space behind them; without them 12
	caseLeast   = 12
	unitsFrom   = 18 // lines; in fewer the units stand above the plot alone
)

// shape is which measures the table has room for, and how wide the columns before them are.
type shape struct {
	date, name   int
	first, count int
}

// shapeOf keeps the chosen measure in sight.
func (s *screen) shapeOf(width int) shape {
	sh := shape{date: dateWide}
	if width < 76 {
		sh.date = 12
	}
	room := width - 2 - sh.date - caseLeast
	sh.count = max(min(room/measureWide, len(s.measures)), 1)
	sh.name = max(min(width-2-sh.date-sh.count*measureWide, 30), 0)
	sh.first = layout.Window(0, s.measure, len(s.measures), sh.count)
	return sh
}

// head are the names of the columns; the chosen measure has the cursor's sign.
func (s *screen) head(sh shape, before string) string {
	t := s.Deps.Theme
	line := layout.Pad("  "+before, 2+sh.date+sh.name)
	for i := sh.first; i < sh.first+sh.count; i++ {
		name := s.measures[i].Name
		if i == s.measure {
			line += t.Strong.Render(layout.PadLeft(t.Sign.Cursor+name, measureWide))
			continue
		}
		line += t.Heading.Render(layout.PadLeft(name, measureWide))
	}
	return line
}

// cells are the numbers of one rehearsal, "." where there is none.
func (s *screen) cells(sh shape, p progress.Rehearsal) string {
	var line strings.Builder
	for _, m := range s.measures[sh.first : sh.first+sh.count] {
		text := "."
		if v, ok := m.Of(p); ok {
			text = notation.FormatNumber(v, m.Decimals)
		}
		line.WriteString(layout.PadLeft(text, measureWide))
	}
	return line.String()
}

// units stand under the names of the columns.
func (s *screen) units(sh shape) string {
	line := strings.Repeat(" ", 2+sh.date+sh.name)
	for _, m := range s.measures[sh.first : sh.first+sh.count] {
		line += layout.PadLeft(m.Unit, measureWide)
	}
	return s.Deps.Theme.Faint.Render(strings.TrimRight(line, " "))
}

// medians are those of a person's newest rehearsals, as finely as they are measured; of plain counts there are halves.
func (s *screen) medians(sh shape, p progress.Person) string {
	var line strings.Builder
	usual := s.sumOf(p).usual
	for i := sh.first; i < sh.first+sh.count; i++ {
		text := "."
		if usual[i] != nil {
			decimals := s.measures[i].Decimals
			if s.measures[i].Unit == "" {
				decimals++
			}
			text = notation.FormatNumber(*usual[i], decimals)
		}
		line.WriteString(layout.PadLeft(text, measureWide))
	}
	return line.String()
}

func (s *screen) drawPerson(size layout.Size) string {
	p, _ := s.person()
	sh := s.shapeOf(size.W)
	s.rows.Keep(len(p.Points))
	head := []string{s.about(p, size.W), s.head(sh, "when")}
	if size.H >= unitsFrom {
		head = append(head, s.units(sh))
	}
	foot := s.summary(p, sh, size)
	room := size.H - len(head) - len(foot)
	plot := s.plot(p, layout.Size{W: size.W, H: plotHeight(room, len(p.Points))})
	rows := s.rows.Draw(len(p.Points), max(room-len(plot), 0), func(i int, here bool) string {
		return s.line(sh, p.Points[i], here, size.W)
	})
	for len(rows) < room-len(plot) {
		rows = append(rows, "")
	}
	return fit(append(append(append(head, rows...), foot...), plot...), size)
}

func (s *screen) line(sh shape, p progress.Rehearsal, here bool, width int) string {
	t := s.Deps.Theme
	when := notation.ShownAt(p.At, s.Deps.Now())
	if sh.date < dateWide {
		when = notation.ShownOn(p.At, s.Deps.Now())
	}
	line := layout.Pad(when, sh.date) + layout.Pad(notation.CleanLine(p.Case, 0), sh.name)
	if p.Finished {
		line += s.cells(sh, p)
	} else {
		line += layout.PadLeft("not finished", min(14, sh.count*measureWide))
	}
	return list.Line(t, line, width, here)
}

// about says what is looked at.
func (s *screen) about(p progress.Person, width int) string {
	what := "all routines"
	if s.routine != "" {
		what = "only " + notation.CleanLine(s.routine, 30)
	}
	text := fmt.Sprintf("%s, %s: %s, %d finished", notation.CleanLine(p.Name, 30), what, notation.Counted(len(p.Points), "rehearsal"), len(p.Finished()))
	return s.Deps.Theme.Faint.Render(layout.Cut(text+s.unmarked(), width))
}

func (s *screen) unmarked() string {
	if len(s.not) == 0 {
		return ""
	}
	return fmt.Sprintf("; %d cannot be marked: %s", len(s.not), notation.CleanLine(s.not[0].Why, 120))
}

// summary are the medians, where each measure goes, and what goes wrong again.
func (s *screen) summary(p progress.Person, sh shape, size layout.Size) []string {
	t := s.Deps.Theme
	lines := []string{
		t.Across(size.W),
		layout.Cut("  "+layout.Pad("median of the newest", sh.date+sh.name)+s.medians(sh, p), size.W),
		layout.Cut("  "+layout.Pad("lately", sh.date+sh.name)+s.directions(p, sh), size.W),
	}
	var again []string
	for _, w := range s.sumOf(p).weak {
		again = append(again, fmt.Sprintf("%s (%d of %d)", w.What, w.Times, w.Of))
	}
	if len(again) > 0 {
		text := layout.Wrap(t.Letters("again and again: "+notation.CleanNote(strings.Join(again, "; "))), size.W)
		lines = append(lines, text[:min(len(text), 2)]...)
	}
	return lines
}

// directions says where each measure goes, in a word of the column's width.
func (s *screen) directions(p progress.Person, sh shape) string {
	words := map[progress.Direction]string{progress.TooFew: ".", progress.NoClear: "=", progress.Better: "better", progress.Worse: "worse"}
	line := ""
	for _, trend := range s.sumOf(p).trends[sh.first : sh.first+sh.count] {
		line += layout.PadLeft(words[trend.Direction], measureWide)
	}
	return line
}

func (s *screen) drawNone(size layout.Size) string {
	text := []string{"No rehearsal is marked yet. A rehearsal is an exam of a simulated horse, marked afterwards: j on the home screen."}
	for i, n := range s.not {
		if i == 3 {
			break
		}
		text = append(text, fmt.Sprintf("%s, %s: %s", notation.ShownOn(n.At, s.Deps.Now()), notation.CleanLine(n.By, 40), notation.CleanNote(n.Why)))
	}
	var lines []string
	for _, line := range text {
		lines = append(lines, layout.Wrap(s.Deps.Theme.Letters(line), size.W)...)
	}
	return fit(lines, size)
}

// fit leaves no line too many or too wide.
func fit(lines []string, size layout.Size) string {
	lines = lines[:min(len(lines), max(size.H, 0))]
	for i := range lines {
		lines[i] = layout.Cut(lines[i], size.W)
	}
	return strings.Join(lines, "\n")
}
