package rehearse

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
)

// row is one line of the table of answers: a place, or several sites of a step with the same answer and truth.
type row struct {
	FindingMark
	sites []string
}

// answers writes the truth beside every answer. Sites of a step that were answered alike share a line; "-" marks no
// answer, "x" a wrong one, "~" one that counts as right though it differs.
func (p *page) answers(m Marks) {
	if len(m.Findings) == 0 {
		return
	}
	right := 0
	for _, f := range m.Findings {
		if f.Right {
			right++
		}
	}
	rows := gather(m.Findings)
	name := (p.width - 4) * 3 / 10
	answer := (p.width - 4 - name) / 2
	p.title(plainCount(right, len(m.Findings)))
	p.columns(" ", []string{"", "you wrote", "true"}, []int{name, answer, answer})
	for _, r := range rows {
		given := r.Answer
		if given == "" {
			given = "(" + r.Why + ")"
		}
		p.columns(signOf(r.FindingMark), []string{r.label(), given, r.Truth}, []int{name, answer, answer})
		if r.Why != "" && r.Answer != "" {
			p.para(strings.Repeat(" ", min(name+3, p.width-20)), r.Why)
		}
	}
}

func plainCount(right, all int) string {
	return "Answers: " + exam.FormatNumber(float64(right), 0) + " of " + exam.FormatNumber(float64(all), 0) + " right"
}

func signOf(f FindingMark) string {
	switch {
	case f.Answer == "":
		return "-"
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
			out[n].sites = append(out[n].sites, string(f.Site))
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

// columns writes cells side by side, each wrapped in its own column.
func (p *page) columns(sign string, cells []string, widths []int) {
	wrapped := make([][]string, len(cells))
	height := 1
	for i, cell := range cells {
		wrapped[i] = strings.Split(ansi.Wrap(cell, widths[i]-1, ""), "\n")
		height = max(height, len(wrapped[i]))
	}
	for line := range height {
		text := " " + sign + " "
		if line > 0 {
			text = "   "
		}
		for i := range cells {
			part := ""
			if line < len(wrapped[i]) {
				part = wrapped[i][line]
			}
			text += part + strings.Repeat(" ", max(0, widths[i]-ansi.StringWidth(part)))
		}
		p.b.WriteString(strings.TrimRight(text, " ") + "\n")
	}
}
