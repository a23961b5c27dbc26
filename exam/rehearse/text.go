package rehearse

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam/notation"
)

// LeastWidth is the narrowest page that Text writes, in columns.
const LeastWidth = 40

// Text writes the marks as one page of at most so many columns. Widths under LeastWidth count as that. No line is wider.
func Text(m Marks, width int) string {
	var out strings.Builder
	for i, block := range Page(m) {
		if i > 0 {
			out.WriteString("\n" + block.Title + "\n")
		}
		for _, line := range block.Lines {
			for _, row := range line.Rows(width) {
				out.WriteString(row + "\n")
			}
		}
	}
	return out.String()
}

// Rows sets a mark in lines of at most so many columns, or LeastWidth where that is more.
func (l MarkLine) Rows(width int) []string {
	width = max(width, LeastWidth)
	if l.Cells != nil {
		return l.answerRows(width)
	}
	return paragraph(l.Lead, l.Text, width)
}

// paragraph writes a text behind a lead, later lines indented as far as the lead is wide.
func paragraph(lead, text string, width int) []string {
	indent := strings.Repeat(" ", ansi.StringWidth(lead))
	rows := wrap(notation.CleanLine(text, notation.MaxNote), width-len(indent))
	for i := range rows {
		rows[i] = strings.TrimRight(lead+rows[i], " ")
		lead = indent
	}
	return rows
}

func wrap(text string, width int) []string { return strings.Split(ansi.Wrap(text, width, ""), "\n") }
