package pdf

import (
	"io"
	"strings"
	"time"

	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
)

// Page is what is set.
type Page struct {
	Title  string // of the horse and the day
	At     time.Time
	Blocks []report.Block
	Charts []chart.Series
}

const (
	gutter  = 18.0
	letters = 7.6
	leading = 9.3
	labels  = 0.42 // of a column at most
)

// Write sets the page in two columns and returns the characters that the font
// lacks, which were printed as question marks.
func Write(w io.Writer, size Size, p Page) ([]rune, error) {
	out, err := newPaper(size, p.Title, p.At)
	if err != nil {
		return nil, err
	}
	f := &flow{paper: out, top: margin + 20, width: (out.w - 2*margin - gutter) / 2}
	out.font(bold, 13)
	out.pdf.Text(margin, margin+8, out.cut(out.known(p.Title), out.w-2*margin))
	f.start()
	for _, b := range p.Blocks {
		f.block(b)
	}
	f.charts(p.Charts)
	return out.write(w)
}

// flow sets lines down one column, then the next, then on the next page.
type flow struct {
	*paper
	top, width float64
	column     int
	y          float64
	label      float64 // width of the labels of the present block
}

func (f *flow) start() { f.column, f.y = 0, f.top }

func (f *flow) x() float64 { return margin + float64(f.column)*(f.width+gutter) }

// need makes room for so many points, in the next column if there is none here.
func (f *flow) need(points float64) {
	if f.y+points <= f.h-margin-foot/2 {
		return
	}
	f.y = f.top
	if f.column++; f.column > 1 {
		f.pdf.AddPage()
		f.column, f.top = 0, margin
		f.y = f.top
	}
}

// block sets a heading and its lines; the heading never stands alone.
func (f *flow) block(b report.Block) { f.blockBefore(b, 0) }

// blockBefore also keeps so many points that follow with the heading.
func (f *flow) blockBefore(b report.Block, follows float64) {
	f.label = f.labelWidth(b)
	if b.Heading != "" {
		f.need(4*leading + follows)
		f.y += leading + 3
		f.font(bold, letters+1)
		f.pdf.Text(f.x(), f.y, f.known(strings.ToUpper(b.Heading[:1])+b.Heading[1:]))
		f.y += 3
		f.rule()
	}
	for _, l := range b.Lines {
		f.line(l)
	}
	f.y += 3
}

// labelWidth is what the widest label of a block needs, within bounds.
func (f *flow) labelWidth(b report.Block) float64 {
	f.font(bold, letters)
	wide := 0.0
	for _, l := range b.Lines {
		wide = max(wide, f.pdf.GetStringWidth("! "+strings.TrimSpace(l.Label)))
	}
	return min(wide+8, f.width*labels)
}

func (f *flow) rule() {
	f.pdf.SetLineWidth(0.4)
	f.pdf.SetDrawColor(120, 120, 120)
	f.pdf.Line(f.x(), f.y, f.x()+f.width, f.y)
}

// line sets a label at the left and its text beside it, or a text over the whole
// column.
func (f *flow) line(l report.Line) {
	style, size := regular, letters
	if l.Level >= ranges.LevelRecheck {
		style = bold
	}
	if l.Under() {
		size -= 0.8
	}
	f.font(style, size)
	label := strings.TrimSpace(l.Label)
	indent, width := 0.0, f.width
	var left []string
	if label != "" {
		indent = f.label
		width = f.width - indent
		left = f.wrap(strings.TrimSpace(chart.Sign(l.Level)+" "+label), indent-6)
	} else if l.Under() {
		indent, width = 10, f.width-10
	}
	right := f.wrap(l.Text, width)
	for i := range max(len(left), len(right)) {
		f.need(leading)
		f.y += leading
		f.font(style, size)
		if i < len(left) {
			f.pdf.Text(f.x(), f.y, left[i])
		}
		if i < len(right) {
			f.pdf.Text(f.x()+indent, f.y, right[i])
		}
	}
}

func (f *flow) charts(list []chart.Series) {
	for i, s := range list {
		if i == 0 {
			f.blockBefore(report.Block{Heading: "over time", Lines: []report.Line{{Text: chart.Legend}}}, chart.Height)
		}
		f.need(chart.Height + 6)
		s.Title = f.known(s.Title)
		chart.Draw(canvas{f.paper}, f.x(), f.y+4, s)
		f.y += chart.Height + 6
	}
}
