package report

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
)

// Block is one part of a page: a heading and its lines. Text, HTML and PDF are
// three ways to set the same blocks.
type Block struct {
	Heading string // empty for the first block, which says who and when
	Lines   []Line
}

// Line is one line of a block. A label that begins with a space, or an empty one
// before a text, belongs to the line before it.
type Line struct {
	Label string
	Text  string
	Level exam.Level // of a remark; 0 elsewhere
}

// Under says that the line belongs to the one before it.
func (l Line) Under() bool {
	return l.Label != "" && (l.Label[0] == ' ' || strings.TrimSpace(l.Label) == "")
}

// writer gathers the lines of a page.
type writer struct{ blocks []Block }

func (w *writer) heading(text string) {
	w.blocks = append(w.blocks, Block{Heading: text})
}

func (w *writer) line(text string) { w.wrap("", text) }

// wrap adds a label and a text that may run over several lines.
func (w *writer) wrap(label, text string) { w.levelled(0, label, text) }

func (w *writer) levelled(level exam.Level, label, text string) {
	if len(w.blocks) == 0 {
		w.blocks = append(w.blocks, Block{})
	}
	b := &w.blocks[len(w.blocks)-1]
	b.Lines = append(b.Lines, Line{Label: label, Text: text, Level: level})
}

// SetText sets blocks as plain text of at most width columns.
func SetText(blocks []Block, width int) string {
	var lines []string
	for i, b := range blocks {
		if i > 0 {
			lines = append(lines, "")
		}
		if b.Heading != "" {
			lines = append(lines, strings.ToUpper(b.Heading))
		}
		for _, l := range b.Lines {
			indent := ansi.StringWidth(l.Label)
			wrapped := strings.Split(ansi.Wrap(l.Text, width-indent, ""), "\n")
			lines = append(lines, l.Label+wrapped[0])
			for _, more := range wrapped[1:] {
				lines = append(lines, strings.Repeat(" ", indent)+more)
			}
		}
	}
	return strings.Join(lines, "\n") + "\n"
}
