package pdf

import (
	"io"
	"strings"
	"time"

	"loosebox/exam/report"
)

// The sizes of a sheet, points: blanks are high enough for a hand in gloves.
const (
	sheetLetters = 10.0
	blankHigh    = 24.0
	tick         = 9.0
)

// WriteSheet sets a blank exam sheet, big enough to write on in a barn.
func WriteSheet(w io.Writer, size Size, s report.Sheet, at time.Time) ([]rune, error) {
	p, err := newPaper(size, "Exam sheet: "+s.Title, "", at)
	if err != nil {
		return nil, err
	}
	b := &board{paper: p, y: margin}
	b.head(s)
	for _, part := range s.Parts {
		b.part(part)
	}
	b.need(blankHigh)
	b.say(regular, 8, report.SheetFoot)
	return p.write(w)
}

// board is a sheet being ruled, top down.
type board struct {
	*paper
	y float64
}

func (b *board) width() float64 { return b.w - 2*margin }

func (b *board) need(points float64) {
	if b.y+points > b.h-margin-foot/2 {
		b.pdf.AddPage()
		b.y = margin
	}
}

func (b *board) say(style string, size float64, text string) {
	b.font(style, size)
	for _, line := range b.wrap(text, b.width()) {
		b.y += size * 1.25
		b.pdf.Text(margin, b.y, line)
	}
}

func (b *board) head(s report.Sheet) {
	b.say(bold, 15, "Exam sheet: "+s.Title)
	half := b.width() / 2
	for i, f := range s.Head() {
		x := margin
		if i%2 == 1 {
			x += half
		} else {
			b.y += blankHigh
		}
		b.font(regular, sheetLetters)
		b.pdf.Text(x, b.y, f[0])
		from := x + b.pdf.GetStringWidth(f[0]) + 5
		b.pdf.Text(from, b.y, b.cut(b.known(f[1])+" ", half-90))
		b.line(from, x+half-12)
	}
	if c := s.Cautions(); c != "" {
		b.y += 4
		b.say(bold, sheetLetters+1, "! "+c)
	}
	b.y += 6
}

func (b *board) line(from, to float64) {
	b.pdf.SetLineWidth(0.5)
	b.pdf.SetDrawColor(60, 60, 60)
	b.pdf.Line(from, b.y+2, to, b.y+2)
}

func (b *board) part(part report.SheetPart) {
	if part.Heading != "" {
		b.need(4.5 * blankHigh)
		b.y += 7
		b.say(bold, sheetLetters+1, strings.ToUpper(part.Heading))
		b.y++
		b.line(margin, b.w-margin)
	}
	for _, row := range part.Rows {
		b.row(row)
	}
}

// row rules one step: its name, its caution, then boxes to tick or blanks.
func (b *board) row(row report.SheetRow) {
	b.need(2.4 * blankHigh)
	name := row.Name
	if row.Usual != "" {
		name += "   (" + row.Usual + ")"
	}
	b.y += 3
	b.say(bold, sheetLetters, name)
	if row.Caution != "" {
		b.say(regular, 8, "! "+row.Caution)
	}
	if len(row.Choices) > 0 && len(row.Blanks) <= 1 {
		b.spread(row.Choices, true)
		return
	}
	if len(row.Choices) > 0 {
		b.say(regular, 8.5, strings.Join(row.Choices, "    "))
	}
	b.blanks(row)
}

// spread sets parts side by side, each with a box before it where wanted.
func (b *board) spread(parts []string, boxes bool) {
	b.font(regular, sheetLetters)
	x := margin + 8
	b.y += 15
	for _, part := range parts {
		part = b.cut(b.known(part), b.width()-tick-20)
		wide := b.pdf.GetStringWidth(part) + tick + 18
		if x+wide > b.w-margin && x > margin+8 {
			x = margin + 8
			b.y += 16
			b.need(blankHigh)
			b.font(regular, sheetLetters)
		}
		if boxes {
			b.pdf.SetDrawColor(60, 60, 60)
			b.pdf.Rect(x, b.y-tick+1, tick, tick, "D")
		}
		b.pdf.Text(x+tick+4, b.y, part)
		x += wide
	}
	b.y += 4
}

// blanks rules one blank for each site, at most four side by side.
func (b *board) blanks(row report.SheetRow) {
	n := min(max(len(row.Blanks), 1), 4)
	wide := b.width() / float64(n)
	for i, label := range row.Blanks {
		if i%n == 0 {
			b.need(blankHigh)
			b.y += blankHigh - 3
		}
		x := margin + 8 + float64(i%n)*wide
		b.font(regular, 9)
		b.pdf.Text(x, b.y, b.known(label))
		from := x + b.pdf.GetStringWidth(label) + 4
		unit := b.known(row.Unit)
		to := x + wide - 14 - b.pdf.GetStringWidth(unit)
		b.line(from, max(to, from+20))
		b.pdf.Text(max(to, from+20)+3, b.y, unit)
	}
	b.y += 5
}
