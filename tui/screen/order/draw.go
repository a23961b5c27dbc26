package order

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// View lists the groups, each with its first steps, and below them warnings about the order.
func (s *screen) View(size layout.Size) string {
	t := s.Deps.Theme
	lines := layout.Wrap(notation.CleanLine(s.routine.About, 0), size.W)
	lines = append(lines, "")
	var foot []string
	for _, text := range steps.OrderCautions(slices.Concat(s.groups...), s.Deps.Steps) {
		for _, l := range layout.Wrap(theme.Caution+" "+text, size.W) {
			foot = append(foot, t.Caution.Render(l))
		}
	}
	if s.said != "" {
		foot = append(foot, layout.Wrap(s.said, size.W)...)
	}
	if s.Saving() {
		foot = append(foot, t.Faint.Render("saving .."))
	}
	wide := 0
	for _, g := range s.groups {
		wide = max(wide, len([]rune(headingOf(g))))
	}
	room := max(size.H-len(lines)-len(foot), 1)
	rows := s.cursor.Draw(len(s.groups), room, func(i int, here bool) string {
		point := " "
		switch {
		case here && s.held:
			point = t.Sign.Now
		case here:
			point = t.Sign.Cursor
		}
		text := layout.Cut(point+" "+layout.Pad(headingOf(s.groups[i]), wide)+"  "+s.stepsOf(s.groups[i]), size.W)
		if here {
			text = t.Cursor.Render(layout.Pad(text, size.W))
		}
		return text
	})
	for len(rows) < room {
		rows = append(rows, "")
	}
	return strings.Join(layout.Fit(append(append(lines, rows...), foot...), size), "\n")
}

// headingOf is where one stands for a group.
func headingOf(group []exam.Ask) string { return notation.CleanLine(group[0].Heading, 0) }

// stepsOf names the steps of a group once each.
func (s *screen) stepsOf(group []exam.Ask) string {
	var names []string
	for _, a := range group {
		step, _ := s.Deps.Steps.ByID(a.Step)
		if !slices.Contains(names, step.Short) {
			names = append(names, step.Short)
		}
	}
	return strings.Join(names, ", ")
}
