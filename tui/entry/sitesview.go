package entry

import (
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

// least is the room a field needs; with less, the sites share lines.
const least = 6

// View draws a line for every site, with its answer, above the present field.
func (s *Sites) View(size layout.Size) []string {
	if len(s.sites) == 1 {
		return s.field().View(size)
	}
	lines := s.lines(size.W)
	if size.H-len(lines) < least {
		lines = s.joined(size.W)
	} else if size.H-len(lines) > least+2 {
		lines = append(lines, "")
	}
	return fit(append(lines, s.field().View(layout.Size{W: size.W, H: size.H - len(lines)})...), size)
}

func (s *Sites) sign(i int) string {
	sign := s.o.Theme.Sign
	_, done := s.have[s.sites[i]]
	_, closed := s.closed[s.sites[i]]
	switch {
	case done:
		return sign.Done
	case closed:
		return sign.NotDone
	}
	return sign.Left
}

func (s *Sites) cursor(i int) string {
	if i == s.at {
		return s.o.Theme.Sign.Cursor
	}
	return " "
}

func (s *Sites) lines(width int) []string {
	wide := 0
	for _, site := range s.sites {
		wide = max(wide, len(site))
	}
	out := make([]string, len(s.sites))
	for i, site := range s.sites {
		answer := s.closed[site]
		if v, ok := s.have[site]; ok {
			answer = notation.CleanLine(v.Show(s.step), 0)
		} else if site == exam.Overall && answer == "" {
			answer = "one for all"
		}
		text := s.cursor(i) + " " + s.sign(i) + " " + layout.Pad(site.String(), wide) + "  " + answer
		out[i] = layout.Cut(text, width)
		if i == s.at {
			out[i] = s.o.Theme.Cursor.Render(out[i])
		}
	}
	return out
}

// joined puts several sites on a line, without their answers.
func (s *Sites) joined(width int) []string {
	var out []string
	line := ""
	for i, site := range s.sites {
		part := s.cursor(i) + s.sign(i) + " " + site.String()
		if line != "" && ansi.StringWidth(line)+2+ansi.StringWidth(part) > width {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += "  "
		}
		line += part
	}
	return append(out, line)
}
