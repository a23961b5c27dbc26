package pdf

import (
	"io"
	"strings"
	"time"

	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

// Page is a page as it is set in PDF.
type Page struct {
	Title  string     // of the animal and the day
	Head   Letterhead // the practice's
	Foot   string     // on every page, before its number
	At     time.Time
	Blocks []report.Block
	Charts []chart.Series
}

const (
	gutter  = 18.0
	letters = 7.8
	leading = 9.6
	labels  = 0.42 // of a column at most
)

// Write sets the page: over the whole width up to the details, which are in two columns. It returns the characters that
// the font lacks, which were printed as question marks.
func Write(w io.Writer, size PaperSize, p Page) ([]rune, error) {
	out, err := newPaper(size, p.Title, p.Foot, p.At)
	if err != nil {
		return nil, err
	}
	f := &flow{paper: out, columns: 1}
	f.top = f.letterhead(p.Head, p.Title)
	f.start()
	for i, b := range p.Blocks {
		switch {
		case b.NewPage:
			f.page(2)
		case b.TwoColumns:
			f.twoColumns(p.Blocks[i:])
		}
		f.block(b)
		if b.NewPage || i == len(p.Blocks)-1 { // with what stands out: never on a page of their own
			f.charts(p.Charts)
			p.Charts = nil
		}
	}
	return out.write(w)
}

// flow sets blocks down one column, then the next, then on the next page.
type flow struct {
	*paper
	columns int
	top     float64
	column  int
	y       float64
	label   float64 // width of the labels of the present block
	low     float64 // where the columns of this page end, to be of like height; 0 for the foot
}

func (f *flow) start() { f.column, f.y = 0, f.top }

// page begins a page of so many columns.
func (f *flow) page(columns int) {
	f.pdf.AddPage()
	f.columns, f.top, f.low = columns, margin, 0
	f.start()
}

func (f *flow) width() float64 {
	return (f.w - 2*margin - gutter*float64(f.columns-1)) / float64(f.columns)
}

func (f *flow) x() float64 { return margin + float64(f.column)*(f.width()+gutter) }

func (f *flow) bottom() float64 {
	if f.low > 0 {
		return f.low
	}
	return f.h - margin - foot/2
}

// twoColumns goes on below in two columns, as low as both need to hold the blocks; where they cannot, down to the foot.
func (f *flow) twoColumns(blocks []report.Block) {
	f.columns, f.top = 2, f.y
	f.start()
	var highs []float64
	for _, b := range blocks {
		f.label = f.labelWidth(b)
		highs = append(highs, f.high(b))
	}
	foot := f.bottom()
	for low := f.top; low < foot; low += leading {
		column, y := 0, f.top
		for _, high := range highs {
			if y+high > low {
				column, y = column+1, f.top
			}
			if y += high; y > low {
				column = 2
			}
		}
		if column < 2 {
			f.low = min(low+1, foot)
			return
		}
	}
}

// need makes room for so many points, in the next column if there is none here.
func (f *flow) need(points float64) bool {
	if f.y+points <= f.bottom() {
		return false
	}
	f.y = f.top
	if f.column++; f.column >= f.columns {
		f.page(f.columns)
	}
	return true
}

// block sets a block, and keeps it together where a column can hold it.
func (f *flow) block(b report.Block) { f.blockBefore(b, 0) }

// blockBefore also keeps so many points that follow with the block.
func (f *flow) blockBefore(b report.Block, follows float64) {
	f.label = f.labelWidth(b)
	if high := f.high(b) + follows; high <= f.bottom()-margin {
		f.need(high)
	} else {
		f.need(4 * leading)
	}
	if b.Box {
		f.box(b)
		return
	}
	f.headingOf(b.Heading)
	f.table(b.Table)
	for _, l := range b.Lines {
		f.line(l, b.Heading)
	}
	f.byHand(b)
	f.y += 3
}

func (f *flow) headingOf(text string) {
	if text == "" {
		return
	}
	f.y += leading + 3
	f.font(bold, letters+1)
	f.pdf.Text(f.x(), f.y, f.known(notation.Capital(text)))
	f.y += 3
	f.rule()
}

// labelWidth is what the widest label of a block needs, within bounds.
func (f *flow) labelWidth(b report.Block) float64 {
	f.font(bold, letters)
	wide := 0.0
	for _, l := range b.Lines {
		wide = max(wide, f.pdf.GetStringWidth(strings.TrimSpace(l.Level.Sign()+" "+strings.TrimSpace(l.Label))))
	}
	return min(wide+8, f.width()*labels)
}

func (f *flow) rule() {
	f.pdf.SetLineWidth(0.4)
	f.pdf.SetDrawColor(120, 120, 120)
	f.pdf.Line(f.x(), f.y, f.x()+f.width(), f.y)
}

// set is how a line is broken: its label at the left, its text beside it. What stands out has its label in bold, and its
// text where it has no label.
type set struct {
	style, text string
	size        float64
	indent      float64
	left, right []string
}

func (f *flow) set(l report.BlockLine) set {
	s := set{style: regular, text: regular, size: letters}
	if l.Level >= ranges.LevelRecheck {
		s.style = bold
	}
	if strings.TrimSpace(l.Label) == "" {
		s.text = s.style
	}
	if l.Under() {
		s.size -= 0.8
	}
	f.font(s.style, s.size)
	label, width := strings.TrimSpace(l.Label), f.width()
	if label != "" {
		s.indent = f.label
		width -= s.indent
		s.left = f.wrap(strings.TrimSpace(l.Level.Sign()+" "+label), s.indent-6)
	} else if l.Under() {
		s.indent, width = 10, f.width()-10
	}
	f.font(s.text, s.size)
	s.right = f.wrap(l.Text, width)
	return s
}

// line sets a line; where its block goes on in the next column the heading is repeated.
func (f *flow) line(l report.BlockLine, heading string) {
	s := f.set(l)
	for i := range max(len(s.left), len(s.right)) {
		if f.need(leading) && heading != "" {
			f.headingOf(heading + ", continued")
		}
		f.y += leading
		f.font(s.style, s.size)
		if i < len(s.left) {
			f.pdf.Text(f.x(), f.y, s.left[i])
		}
		f.font(s.text, s.size)
		if i < len(s.right) {
			f.pdf.Text(f.x()+s.indent, f.y, s.right[i])
		}
	}
}

// high is how many points a block takes.
func (f *flow) high(b report.Block) float64 {
	if b.Box {
		return f.boxHigh(b)
	}
	high := 3.0
	if b.Heading != "" {
		high += leading + 6
	}
	high += f.tableHigh(b.Table)
	for _, l := range b.Lines {
		s := f.set(l)
		high += leading * float64(max(len(s.left), len(s.right)))
	}
	return high + handHigh(b)
}
