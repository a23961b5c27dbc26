package report

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
)

// Block is one part of a page: a heading, a table, lines, and room to write by hand, in this order. Text, HTML and PDF are
// three ways to set the same blocks.
type Block struct {
	Heading string // empty for the first block, which says who and when
	Table   *Table
	Lines   []BlockLine
	// Box says that the block names the animal: it is framed, its lines in two columns.
	Box bool
	// NewPage says that the details begin here, on a page of their own.
	NewPage bool
	// TwoColumns says that the page goes on in two columns of like height.
	TwoColumns bool
	// Room is how many empty lines are ruled for a pen; Sign are the names to sign with.
	Room int
	Sign []string
}

// Table is a small table: a head, and rows of as many cells.
type Table struct {
	Head []string
	Rows []TableRow
	Now  int // the column that holds what was found now, from 0; it is in bold
}

// TableRow is a row of a table. Level is that of its finding.
type TableRow struct {
	Cells []string
	Level exam.Level
}

// BlockLine is one line of a block. A label that begins with a space, or an empty one
// before a text, belongs to the line before it.
type BlockLine struct {
	Label string
	Text  string
	Level exam.Level // of a remark; 0 elsewhere
}

// Under says that the line belongs to the one before it.
func (l BlockLine) Under() bool {
	return l.Label != "" && (l.Label[0] == ' ' || strings.TrimSpace(l.Label) == "")
}

// writer gathers the lines of a page.
type writer struct {
	blocks  []Block
	sources []string // cited so far, each once; the first is note 1
}

func (w *writer) heading(text string) {
	w.blocks = append(w.blocks, Block{Heading: text})
}

// block is the block that is being written.
func (w *writer) block() *Block {
	if len(w.blocks) == 0 {
		w.blocks = append(w.blocks, Block{})
	}
	return &w.blocks[len(w.blocks)-1]
}

func (w *writer) line(text string) { w.wrap("", text) }

// wrap adds a label and a text that may run over several lines.
func (w *writer) wrap(label, text string) { w.levelled(0, label, text) }

func (w *writer) levelled(level exam.Level, label, text string) {
	b := w.block()
	b.Lines = append(b.Lines, BlockLine{Label: label, Text: text, Level: level})
}

// cite is the number of a source in brackets, "[2]"; empty where there is none.
func (w *writer) cite(evidence exam.Evidence, source string) string {
	text := join(": ", evidence.String(), source)
	if text == "" {
		return ""
	}
	i := slices.Index(w.sources, text)
	if i < 0 {
		i, w.sources = len(w.sources), append(w.sources, text)
	}
	return "[" + number(i+1) + "]"
}

// cited lists the sources by their numbers.
func (w *writer) cited() {
	for i, s := range w.sources {
		if i == 0 {
			w.heading("sources")
		}
		w.wrap("["+number(i+1)+"] ", s)
	}
}

// SetText sets blocks as plain text of at most width columns.
func SetText(blocks []Block, width int) string {
	var lines []string
	for i, b := range blocks {
		if i > 0 {
			lines = append(lines, "")
		}
		if b.NewPage {
			lines = append(lines, strings.Repeat("-", width))
		}
		if b.Heading != "" {
			lines = append(lines, strings.ToUpper(b.Heading))
		}
		lines = append(lines, tableText(b.Table, width)...)
		for _, l := range b.Lines {
			indent := ansi.StringWidth(l.Label)
			wrapped := strings.Split(ansi.Wrap(l.Text, width-indent, ""), "\n")
			lines = append(lines, l.Label+wrapped[0])
			for _, more := range wrapped[1:] {
				lines = append(lines, strings.Repeat(" ", indent)+more)
			}
		}
		for range b.Room {
			lines = append(lines, strings.Repeat("_", width))
		}
		for _, s := range b.Sign {
			lines = append(lines, s+" "+strings.Repeat("_", max(width-ansi.StringWidth(s)-1, 8)))
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// tableText sets a table in columns; what does not fit in the last one is wrapped there.
func tableText(t *Table, width int) []string {
	if t == nil {
		return nil
	}
	rows := append([]TableRow{{Cells: t.Head}}, t.Rows...)
	wide := make([]int, len(t.Head))
	for _, r := range rows {
		for i, c := range r.Cells {
			wide[i] = min(max(wide[i], ansi.StringWidth(c)), width/len(t.Head)+6)
		}
	}
	var out []string
	for _, r := range rows {
		cells, high := make([][]string, len(r.Cells)), 0
		room := width
		for i, c := range r.Cells {
			w := wide[i]
			if i == len(r.Cells)-1 {
				w = max(room, 10)
			}
			cells[i] = strings.Split(ansi.Wrap(c, w, ""), "\n")
			high, room = max(high, len(cells[i])), room-wide[i]-2
		}
		for n := range high {
			line := ""
			for i := range cells {
				text := ""
				if n < len(cells[i]) {
					text = cells[i][n]
				}
				line += text + strings.Repeat(" ", max(wide[i]-ansi.StringWidth(text), 0)+2)
			}
			out = append(out, strings.TrimRight(line, " "))
		}
	}
	return out
}
