package rehearse

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// row is one line of the table of answers: a place, or several sites of a step with the same answer and truth.
type row struct {
	FindingMark
	sites []string
}

// answersPart sets the truth beside every answer. Sites of a step that were answered alike share a line.
func answersPart(m Marks) Block {
	if len(m.Findings) == 0 {
		return Block{}
	}
	tally := m.Tally()
	b := Block{Title: fmt.Sprintf("Answers: %d of %d right", tally.Right, tally.Asked), Lines: []MarkLine{{Sign: " ", Cells: []string{"", "you entered", "true"}}}}
	if rest := tally.rest(); rest != "" {
		b.Lines = append([]MarkLine{{Lead: "  ", Text: rest}}, b.Lines...)
	}
	for _, r := range gather(m.Findings) {
		given, under := r.Answer, r.Why
		if given == "" {
			given, under = "("+r.Why+")", ""
		}
		b.Lines = append(b.Lines, MarkLine{
			Sign: signOf(r.FindingMark), Cells: []string{r.label(), given, r.Truth}, Under: under, Fault: !r.Right,
			Step: r.Step, Why: whyAnswer(r.FindingMark),
		})
	}
	return b
}

// rest says what became of the answers that are not right: "3 in part, 5 not examined".
func (t Tally) rest() string {
	var parts []string
	for _, part := range []struct {
		n     int
		words string
	}{{t.InPart, "in part"}, {t.Wrong, "wrong"}, {t.NotExamined, "not examined"}, {t.Excused, "could not be examined"}} {
		if part.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", part.n, part.words))
		}
	}
	return strings.Join(parts, ", ")
}

func signOf(f FindingMark) string {
	switch {
	case f.Answer == "", f.TooSoon != "":
		return "-"
	case f.Outcome == OutcomeInPart, f.Outcome == OutcomeMeasuredOff:
		return "/"
	case !f.Right:
		return "x"
	case f.Why != "":
		return "~"
	}
	return " "
}

// gather joins neighbouring sites of one step that were answered alike.
func gather(list []FindingMark) []row {
	var out []row
	for _, f := range list {
		n := len(out) - 1
		alike := n >= 0 && out[n].Step == f.Step && out[n].Answer == f.Answer && out[n].Truth == f.Truth && out[n].Why == f.Why && out[n].Right == f.Right
		if !alike {
			out = append(out, row{FindingMark: f})
			n++
		}
		if f.Site != exam.NoSite {
			out[n].sites = append(out[n].sites, f.Site.String())
		}
	}
	return out
}

func (r row) label() string {
	if len(r.sites) < 2 {
		return r.Name
	}
	name, _, _ := strings.Cut(r.Name, ",")
	if len(r.sites) == 4 {
		return name + ", all four"
	}
	return name + ", " + strings.Join(r.sites, " and ")
}

// answerRows sets the cells side by side, each wrapped in its own column, and what is wrong below.
func (l MarkLine) answerRows(width int) []string {
	first := (width - 4) * 3 / 10
	widths := []int{first, (width - 4 - first) / 2, (width - 4 - first) / 2}
	out := beside(l.Sign, l.Cells, widths)
	if l.Under != "" {
		out = append(out, paragraph(strings.Repeat(" ", min(first+3, width-20)), l.Under, width)...)
	}
	return out
}

func beside(sign string, cells []string, widths []int) []string {
	wrapped := make([][]string, len(cells))
	height := 1
	for i, cell := range cells {
		wrapped[i] = wrap(notation.CleanLine(cell, 0), widths[i]-1)
		height = max(height, len(wrapped[i]))
	}
	out := make([]string, height)
	for n := range out {
		text := " " + sign + " "
		if n > 0 {
			text = "   "
		}
		for i := range cells {
			part := ""
			if n < len(wrapped[i]) {
				part = wrapped[i][n]
			}
			text += part + strings.Repeat(" ", max(0, widths[i]-ansi.StringWidth(part)))
		}
		out[n] = strings.TrimRight(text, " ")
	}
	return out
}
