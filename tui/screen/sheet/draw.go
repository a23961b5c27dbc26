package sheet

import (
	"fmt"
	"strings"

	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (s *screen) View(size layout.Size) string {
	var lines []string
	switch r, ok := s.here(); {
	case s.pick != nil:
		lines = s.pick.draw(s.Deps.Theme, size)
	case s.words != nil && ok:
		lines = s.drawWords(r.guess, size)
	default:
		lines = s.drawRows(size)
	}
	return strings.Join(layout.Fit(lines, size), "\n")
}

// drawRows is every row, and below them why the one under the cursor is taken so.
func (s *screen) drawRows(size layout.Size) []string {
	t := s.Deps.Theme
	foot := s.foot(size)
	wide := min(max(size.W/3, 16), 30)
	lines := []string{t.Heading.Render(layout.Pad("    "+layout.Pad("column", wide)+" what it holds", size.W))}
	lines = append(lines, s.cursor.Draw(len(s.rows), size.H-len(foot)-1, func(i int, here bool) string {
		r := s.rows[i]
		sign := "  "
		switch {
		case r.open:
			sign = t.Sign.Left + " "
		case s.sure[r.key]:
			sign = t.Sign.Done + " "
		}
		text := sign + " " + layout.Pad(layout.Cut(r.name, wide), wide) + " " + r.value
		if here {
			return t.Cursor.Render(layout.Pad(layout.Cut(t.Sign.Cursor+text, size.W), size.W))
		}
		return layout.Cut(" "+text, size.W)
	})...)
	for len(lines) < size.H-len(foot) {
		lines = append(lines, "")
	}
	return append(lines, foot...)
}

// foot says of the row under the cursor why, what its cells look like, and what its words become.
func (s *screen) foot(size layout.Size) []string {
	t := s.Deps.Theme
	out := []string{t.Across(size.W)}
	r, ok := s.here()
	if !ok {
		return append(out, layout.Cut("The sheet has no column that holds anything.", size.W))
	}
	why := layout.Wrap(notation.CleanLine(r.why, 700), size.W)
	for _, line := range why {
		if r.open {
			line = t.Warn.Render(line)
		}
		out = append(out, line)
	}
	if r.guess != nil {
		if len(r.guess.Sample) > 0 {
			out = append(out, t.Faint.Render(layout.Cut("cells: "+strings.Join(r.guess.Sample, " · "), size.W)))
		}
		out = append(out, s.becomes(r.guess, size.W)...)
	}
	most := max(size.H/2, 4)
	if len(out) > most {
		out = out[:most]
	}
	return out
}

// becomes is the commonest words on two lines.
func (s *screen) becomes(g *intake.Guess, width int) []string {
	var words []string
	for _, w := range g.Words {
		words = append(words, fmt.Sprintf("%s (%d) = %s", w.Text, w.Count, asWritten(w.Becomes)))
	}
	if len(words) == 0 {
		return nil
	}
	lines := layout.Wrap("words: "+strings.Join(words, "; "), width)
	return lines[:min(len(lines), 2)]
}

func asWritten(becomes string) string {
	if becomes == "" {
		return "as written"
	}
	return becomes
}

func (s *screen) drawWords(g *intake.Guess, size layout.Size) []string {
	t := s.Deps.Theme
	lines := []string{t.Heading.Render(layout.Cut("words of "+g.Name, size.W)), ""}
	return append(lines, s.words.Draw(len(g.Words), size.H-len(lines), func(i int, here bool) string {
		w := g.Words[i]
		text := fmt.Sprintf("%6d  %s %s", w.Count, layout.Pad(layout.Cut(w.Text, size.W/3), size.W/3), asWritten(w.Becomes))
		if here {
			return t.Cursor.Render(layout.Pad(layout.Cut(t.Sign.Cursor+text, size.W), size.W))
		}
		return layout.Cut(" "+text, size.W)
	})...)
}
