package pdf

import (
	"bytes"
	"image"
	_ "image/jpeg" // logos
	_ "image/png"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"loosebox/exam/report"
	"loosebox/ranges"
)

// Letterhead is the letterhead of a practice: its lines, the name first, and a logo as the bytes of a PNG or JPEG; both may be
// empty.
type Letterhead struct {
	Lines []string
	Logo  []byte
}

// The sizes of the first page, points.
const (
	logoWide, logoHigh = 110.0, 38.0
	penHigh            = 20.0 // a line to write on
	boxPad             = 6.0
)

// letterhead sets the practice at the left, its logo at the right, then the title; it returns where the text begins.
func (f *flow) letterhead(h Letterhead, title string) float64 {
	y := margin
	for i, l := range h.Lines {
		style, size := regular, 8.0
		if i == 0 {
			style, size = bold, 12
		}
		f.font(style, size)
		y += size + 2
		f.pdf.Text(margin, y, f.cut(f.known(l), f.w-2*margin-logoWide-10))
	}
	if low := f.logo(h.Logo); low > y {
		y = low
	}
	if len(h.Lines) > 0 || len(h.Logo) > 0 {
		y += 5
		f.pdf.SetLineWidth(0.8)
		f.pdf.SetDrawColor(60, 60, 60)
		f.pdf.Line(margin, y, f.w-margin, y)
		y += 6
	}
	f.font(bold, 13)
	y += 10
	f.pdf.Text(margin, y, f.cut(f.known(title), f.w-2*margin))
	return y + 6
}

// logo sets the picture at the upper right within its bounds, and returns its lower edge; 0 for none.
func (f *flow) logo(b []byte) float64 {
	c, kind, err := image.DecodeConfig(bytes.NewReader(b))
	if err != nil || c.Width == 0 || c.Height == 0 {
		return 0
	}
	scale := min(logoWide/float64(c.Width), logoHigh/float64(c.Height))
	w, h := float64(c.Width)*scale, float64(c.Height)*scale
	o := fpdf.ImageOptions{ImageType: kind}
	f.pdf.RegisterImageOptionsReader("logo", o, bytes.NewReader(b))
	f.pdf.ImageOptions("logo", f.w-margin-w, margin, w, h, false, o, 0, "")
	return margin + h
}

// box frames the lines of the block that names the animal, in two columns: the odd ones at the left.
func (f *flow) box(b report.Block) {
	top := f.y + 2
	left, right := f.boxColumns(b)
	for i, column := range [][]report.BlockLine{left, right} {
		f.y = top + boxPad - 2
		for n, l := range column {
			f.boxLine(l, margin+boxPad+float64(i)*f.width()/2, i == 0 && n == 0)
		}
	}
	high := f.boxHigh(b)
	f.pdf.SetLineWidth(0.6)
	f.pdf.SetDrawColor(60, 60, 60)
	f.pdf.Rect(margin, top, f.width(), high-4, "D")
	f.y = top + high - 2
}

// boxColumns parts the lines: an unlabelled line belongs to the one two before it.
func (f *flow) boxColumns(b report.Block) (left, right []report.BlockLine) {
	for i, l := range b.Lines {
		if i%2 == 0 {
			left = append(left, l)
		} else {
			right = append(right, l)
		}
	}
	return left, right
}

const boxLabel = 52.0

func (f *flow) boxText(l report.BlockLine, first bool) (style string, size float64, lines []string) {
	style, size = regular, letters
	if first {
		style, size = bold, 12
	}
	f.font(style, size)
	return style, size, f.wrap(l.Text, f.width()/2-2*boxPad-boxLabel)
}

func (f *flow) boxLine(l report.BlockLine, x float64, first bool) {
	style, size, lines := f.boxText(l, first)
	for i, text := range lines {
		f.y += leading + (size-letters)*0.8
		if i == 0 {
			f.font(regular, letters-0.4)
			f.pdf.SetTextColor(70, 70, 70)
			f.pdf.Text(x, f.y, f.known(strings.TrimSpace(l.Label)))
			f.pdf.SetTextColor(0, 0, 0)
		}
		f.font(style, size)
		f.pdf.Text(x+boxLabel, f.y, text)
	}
}

func (f *flow) boxHigh(b report.Block) float64 {
	left, right := f.boxColumns(b)
	high := 0.0
	for i, column := range [][]report.BlockLine{left, right} {
		sum := 2*boxPad + 2
		for n, l := range column {
			_, size, lines := f.boxText(l, i == 0 && n == 0)
			sum += (leading + (size-letters)*0.8) * float64(len(lines))
		}
		high = max(high, sum)
	}
	return high
}

// columnsOf are the widths of a table's columns: the first and the two in the middle by what they hold, the last the rest.
func (f *flow) columnsOf(t *report.Table) []float64 {
	wide := make([]float64, len(t.Head))
	share := []float64{0.24, 0.30, 0.20, 0.26}
	for i := range wide {
		wide[i] = f.width() / float64(len(t.Head))
		if len(t.Head) == len(share) {
			wide[i] = f.width() * share[i]
		}
	}
	return wide
}

func (f *flow) rowCells(r report.TableRow, wide []float64) (style string, cells [][]string, lines int) {
	style = regular
	if r.Level >= ranges.LevelRecheck {
		style = bold
	}
	f.font(style, letters+0.4)
	for i, c := range r.Cells {
		cells = append(cells, f.wrap(c, wide[i]-8))
		lines = max(lines, len(cells[i]))
	}
	return style, cells, lines
}

func (f *flow) tableHigh(t *report.Table) float64 {
	if t == nil {
		return 0
	}
	high, wide := leading+2, f.columnsOf(t)
	for _, r := range t.Rows {
		_, _, n := f.rowCells(r, wide)
		high += float64(n)*(leading+0.6) + 2
	}
	return high
}

// table sets a table with a thin rule between its rows.
func (f *flow) table(t *report.Table) {
	if t == nil {
		return
	}
	wide := f.columnsOf(t)
	row := func(style string, size float64, cells [][]string, lines int) {
		for n := range lines {
			f.y += leading + 0.6
			x := f.x()
			for i, c := range cells {
				if f.font(style, size); i > 0 && i != t.Now {
					f.font(regular, size)
				}
				if n < len(c) {
					f.pdf.Text(x, f.y, c[n])
				}
				x += wide[i]
			}
		}
	}
	head := make([][]string, len(t.Head))
	for i, h := range t.Head {
		head[i] = []string{f.known(h)}
	}
	f.pdf.SetTextColor(70, 70, 70)
	row(regular, letters-0.6, head, 1)
	f.pdf.SetTextColor(0, 0, 0)
	for _, r := range t.Rows {
		style, cells, n := f.rowCells(r, wide)
		f.need(float64(n)*(leading+0.6) + 2)
		row(style, letters+0.4, cells, n)
		f.y += 2
		f.pdf.SetLineWidth(0.2)
		f.pdf.SetDrawColor(190, 190, 190)
		f.pdf.Line(f.x(), f.y, f.x()+f.width(), f.y)
	}
}

func handHigh(b report.Block) float64 {
	high := penHigh * float64(b.Room)
	if len(b.Sign) > 0 {
		high += penHigh + 16
	}
	return high
}

// byHand rules the lines to write on, and those to sign on, side by side.
func (f *flow) byHand(b report.Block) {
	f.pdf.SetLineWidth(0.4)
	f.pdf.SetDrawColor(110, 110, 110)
	for range b.Room {
		f.y += penHigh
		f.pdf.Line(f.x(), f.y, f.x()+f.width(), f.y)
	}
	if len(b.Sign) == 0 {
		return
	}
	f.y += penHigh + 6
	each := f.width() / float64(len(b.Sign))
	for i, s := range b.Sign {
		x := f.x() + each*float64(i)
		f.pdf.Line(x, f.y, x+each-14, f.y)
		f.font(regular, letters-0.6)
		f.pdf.Text(x, f.y+9, f.cut(f.known(s), each-14))
	}
	f.y += 10
}
