package progress

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
)

// drawEverybody is a line for each person: the medians of their newest rehearsals.
func (s *screen) drawEverybody(size layout.Size) string {
	sh := s.shapeOf(size.W)
	what := "all routines"
	if s.routine != "" {
		what = "only " + notation.CleanLine(s.routine, 30)
	}
	text := fmt.Sprintf("people: %d, %s; median of the newest %d finished rehearsals of each", len(s.all), what, progress.Lately)
	head := []string{s.Deps.Theme.Faint.Render(layout.Cut(text+s.unmarked(), size.W)), s.head(sh, "who (finished), last")}
	if size.H >= unitsFrom {
		head = append(head, s.units(sh))
	}
	p, _ := s.person()
	foot := s.summary(p, sh, size)
	room := max(size.H-len(head)-len(foot), 0)
	plot := s.plot(p, layout.Size{W: size.W, H: plotHeight(room, len(s.all))})
	rows := s.people.Draw(len(s.all), max(room-len(plot), 0), func(i int, here bool) string {
		return s.personLine(sh, s.all[i].With(s.routine), here, size.W)
	})
	for len(rows) < room-len(plot) {
		rows = append(rows, "")
	}
	return fit(append(append(append(head, rows...), foot...), plot...), size)
}

func (s *screen) personLine(sh shape, p progress.Person, here bool, width int) string {
	last := ""
	if len(p.Points) > 0 {
		last = p.Points[0].At.In(s.Deps.Now().Location()).Format("2 Jan")
	}
	end := fmt.Sprintf(" (%d) %s", len(p.Finished()), last)
	wide := sh.date + sh.name
	line := layout.Pad(layout.Cut(notation.CleanLine(p.Name, 0), max(wide-len(end)-1, 1))+end, wide) + s.medians(sh, p)
	return list.Line(s.Deps.Theme, line, width, here)
}
