package pdf

import (
	"io"
	"strings"
	"time"

	"loosebox/exam/report"
)

// The sizes of a sheet, points. A blank is 8 mm high and about 20 mm wide, a box to tick 4 mm: a hand in gloves can write
// there (from memory).
const (
	sheetLetters = 8.0
	blankHigh    = 22.7
	blankWide    = 57.0
	headRow      = 19.0
	columnGap    = 14.0
)

// WriteSheet sets a blank exam sheet in two columns, big enough to write on in a barn.
func WriteSheet(w io.Writer, size PaperSize, s report.Sheet, at time.Time) ([]rune, error) {
	p, err := newPaper(size, "Exam sheet: "+s.Title, s.Foot(), at)
	if err != nil {
		return nil, err
	}
	b := &board{paper: p, sheet: s, tick: 11, tickHigh: 13}
	if size == Letter { // shorter by 18 mm
		b.tick, b.tickHigh = 10, 11.8
	}
	b.head()
	for _, part := range s.Parts {
		b.part(part)
	}
	b.again()
	return p.write(w)
}

// board is a sheet being ruled, down one column and then the next. While measuring nothing is drawn.
type board struct {
	*paper
	sheet     report.Sheet
	top, y    float64
	column    int
	measuring bool
	// tick is the side of a box to tick, tickHigh the height of its line.
	tick, tickHigh float64
}

func (b *board) width() float64 { return (b.w - 2*margin - columnGap) / 2 }

func (b *board) low() float64 { return b.h - foot - 4 }

func (b *board) x() float64 { return margin + float64(b.column)*(b.width()+columnGap) }

// text sets one line, unless the board only measures.
func (b *board) text(x, y float64, text string) {
	if !b.measuring {
		b.pdf.Text(x, y, text)
	}
}

func (b *board) rect(x, y, w, h float64) {
	if !b.measuring {
		b.pdf.SetLineWidth(0.5)
		b.pdf.SetDrawColor(60, 60, 60)
		b.pdf.Rect(x, y, w, h, "D")
	}
}

// keep sets what draw draws where it fits as a whole: here, or in the next column.
func (b *board) keep(draw func()) {
	from := b.y
	b.measuring = true
	draw()
	high := b.y - from
	b.measuring, b.y = false, from
	if b.y+high > b.low() && b.y > b.top {
		if b.column++; b.column > 1 {
			b.pdf.AddPage()
			b.head()
		}
		b.y = b.top
	}
	draw()
}

func (b *board) say(style string, size float64, text string) {
	b.font(style, size)
	for _, line := range b.wrap(text, b.width()) {
		b.y += size * 1.2
		b.text(b.x(), b.y, line)
	}
}

// head names the sheet and the animal on every page, over both columns.
func (b *board) head() {
	b.y, b.column = margin, 0
	full := b.w - 2*margin
	b.font(bold, 13)
	b.y += 11
	b.pdf.Text(margin, b.y, b.cut(b.known("Exam sheet: "+b.sheet.Title), full/2-40))
	b.font(regular, sheetLetters-1)
	b.pdf.Text(b.w-margin-b.pdf.GetStringWidth(report.SheetFoot), b.y, report.SheetFoot)
	const across = 4
	wide := full / across
	for i, f := range b.sheet.Head() {
		if i%across == 0 {
			b.y += headRow
		}
		x := margin + float64(i%across)*wide
		b.font(regular, sheetLetters-0.8)
		b.pdf.Text(x, b.y, b.known(f[0]))
		from := x + b.pdf.GetStringWidth(f[0]) + 4
		b.font(bold, sheetLetters)
		b.pdf.Text(from, b.y, b.cut(b.known(f[1])+" ", x+wide-10-from))
		b.pdf.SetLineWidth(0.5)
		b.pdf.SetDrawColor(60, 60, 60)
		b.pdf.Line(from, b.y+2, x+wide-8, b.y+2)
	}
	if c := b.sheet.Cautions(); c != "" {
		b.y += 13
		b.font(bold, sheetLetters+1.5)
		b.pdf.Text(margin, b.y, b.cut(b.known("Caution: "+c), full))
	}
	b.y += 5
	b.top = b.y
}

// part keeps its heading with its first row. Rows whose list stands further up share lines.
func (b *board) part(part report.SheetPart) {
	headed := part.Heading == ""
	for i := 0; i < len(part.Rows); {
		n := i
		for n < len(part.Rows) && part.Rows[n].Coded && len(part.Rows[n].Choices) == 0 {
			n++
		}
		rows, head := part.Rows[i:max(n, i+1)], !headed
		b.keep(func() {
			if head {
				b.heading(part.Heading)
			}
			if n > i {
				b.codes(rows)
			} else {
				b.row(rows[0])
			}
		})
		i, headed = i+len(rows), true
	}
}

func (b *board) heading(text string) {
	b.y += 4
	b.say(bold, sheetLetters+0.6, strings.ToUpper(text))
	b.y += 2
	if !b.measuring {
		b.pdf.SetLineWidth(0.6)
		b.pdf.SetDrawColor(60, 60, 60)
		b.pdf.Line(b.x(), b.y, b.x()+b.width(), b.y)
	}
}
