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
func WriteSheet(w io.Writer, size Size, s report.Sheet, at time.Time) ([]rune, error) {
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
		b.pdf.Text(margin, b.y, b.cut(b.known("! "+c), full))
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

// codes are the boxes of rows whose list of numbers stands further up, two side by side.
func (b *board) codes(rows []report.SheetRow) {
	var labels []string
	for _, r := range rows {
		if len(r.Blanks) < 2 {
			labels = append(labels, r.Name)
			continue
		}
		for _, l := range r.Blanks {
			labels = append(labels, r.Name+", "+l)
		}
	}
	half := b.width() / 2
	b.y += 3
	for i, l := range labels {
		x := b.x() + float64(i%2)*half
		if i > 0 && i%2 == 0 {
			b.y += blankHigh + 2
		}
		b.font(bold, sheetLetters-0.6)
		for n, line := range b.wrap(l, half-blankWide+8) {
			b.text(x, b.y+9+float64(n)*9, line)
		}
		b.rect(x+half-blankWide+10, b.y, blankWide-16, blankHigh)
	}
	b.y += blankHigh + 2
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

// row rules one step: its name, its caution, then boxes to tick, or blanks.
func (b *board) row(row report.SheetRow) {
	b.y += 2
	if len(row.Blanks) <= 1 && len(row.Choices) == 0 && row.Caution == "" {
		b.beside(row)
		return
	}
	b.say(bold, sheetLetters, row.Name)
	if row.Usual != "" && !b.measuring {
		b.font(bold, sheetLetters)
		x := b.x() + b.pdf.GetStringWidth(b.known(row.Name)) + 6
		b.font(regular, sheetLetters-0.6)
		b.pdf.SetTextColor(110, 110, 110)
		b.text(x, b.y, b.cut(b.known(row.Usual), max(b.x()+b.width()-x, 1)))
		b.pdf.SetTextColor(0, 0, 0)
	}
	if row.Caution != "" {
		b.say(regular, sheetLetters-1.4, "! "+row.Caution)
	}
	if len(row.Choices) > 0 && !row.Coded {
		b.ticks(row.Choices)
		return
	}
	if len(row.Choices) > 0 {
		b.coded(row)
		return
	}
	b.blanks(row)
}

// coded sets the list of numbers at the left, and at the right a box for each site with its name in the corner.
func (b *board) coded(row report.SheetRow) {
	const wide = 46.0
	n := min(len(row.Blanks), 4)
	across := min(n, 2)
	high := float64((n+1)/2) * (blankHigh + 2)
	b.font(regular, sheetLetters-1)
	lines := b.wrap(strings.Join(row.Choices, "   "), b.width()-float64(across)*(wide+3)-4)
	for i, line := range lines {
		b.text(b.x(), b.y+float64(i+1)*(sheetLetters+0.4), line)
	}
	for i := range n {
		x := b.x() + b.width() - float64(across-i%2)*(wide+3)
		y := b.y + 2 + float64(i/2)*(blankHigh+2)
		b.rect(x, y, wide, blankHigh)
		b.font(regular, sheetLetters-2.4)
		b.text(x+2, y+6, b.cut(b.known(row.Blanks[i]), wide-3))
	}
	b.y += max(high, float64(len(lines))*(sheetLetters+0.4)) + 3
}

// beside rules one blank at the right of its name.
func (b *board) beside(row report.SheetRow) {
	b.font(bold, sheetLetters)
	b.text(b.x(), b.y+14, b.known(row.Name))
	name := b.pdf.GetStringWidth(b.known(row.Name)) + 6
	b.font(regular, sheetLetters-1)
	more := strings.TrimSpace(b.known(row.Unit + "  " + row.Usual))
	wide := max(b.width()-name-b.pdf.GetStringWidth(more)-8, blankWide)
	b.rect(b.x()+name, b.y, wide, blankHigh)
	b.text(b.x()+name+wide+4, b.y+14, more)
	b.y += blankHigh + 2
}

// ticks sets choices side by side, each with a box before it.
func (b *board) ticks(choices []string) {
	x, first := b.x(), true
	b.y += b.tickHigh
	for _, c := range choices {
		b.font(regular, sheetLetters-0.4)
		c = b.cut(b.known(c), b.width()-b.tick-6)
		wide := b.pdf.GetStringWidth(c) + b.tick + 11
		if !first && x+wide-8 > b.x()+b.width() {
			x = b.x()
			b.y += b.tickHigh
		}
		b.rect(x, b.y-b.tick+2, b.tick, b.tick)
		b.text(x+b.tick+3, b.y, c)
		x += wide
		first = false
	}
	b.y += 3
}

// blanks rules a box for each site, its label before it.
func (b *board) blanks(row report.SheetRow) {
	labels := row.Blanks
	if len(labels) == 0 {
		labels = []string{""}
	}
	unit := b.known(row.Unit)
	b.font(regular, sheetLetters-1)
	unitWide := b.pdf.GetStringWidth(unit) + 6
	x, first := b.x(), true
	b.y += 2
	for _, l := range labels {
		l = b.known(l)
		b.font(regular, sheetLetters-1)
		before := b.pdf.GetStringWidth(l) + 3
		wide := min(blankWide, b.width()-before-unitWide)
		if len(labels) == 1 {
			wide = b.width() - before - unitWide
			if row.Unit != "" {
				wide = min(wide, 2*blankWide)
			}
		}
		if len(labels) > 2 { // four side by side
			wide = min(wide, max(b.width()/4-before-4, 34))
		}
		if !first && x+before+wide > b.x()+b.width()+1 {
			x = b.x()
			b.y += blankHigh + 2
		}
		b.text(x, b.y+blankHigh-8, l)
		b.rect(x+before, b.y, wide, blankHigh)
		x += before + wide + 4
		first = false
	}
	b.font(regular, sheetLetters-1)
	if x+unitWide <= b.x()+b.width()+6 {
		b.text(x, b.y+blankHigh-8, unit)
	}
	b.y += blankHigh + 2
}

// again is a small table for three more looks, and who signs; it is left out where it would take another page.
func (b *board) again() {
	const rows = 3
	high := 14 + rows*(blankHigh+1) + 40
	if b.y+high > b.low() {
		if b.column == 1 {
			return
		}
		b.column, b.y = 1, b.top
	}
	b.heading("looked at again")
	b.y += 2
	heads := []string{"time", "temperature", "heart", "breaths"}
	wide := b.width() / float64(len(heads))
	b.font(regular, sheetLetters-1.2)
	b.y += 8
	for i, h := range heads {
		b.text(b.x()+float64(i)*wide, b.y, h)
	}
	b.y += 3
	for range rows {
		for i := range heads {
			b.rect(b.x()+float64(i)*wide, b.y, wide-3, blankHigh-2)
		}
		b.y += blankHigh + 1
	}
	b.y += 20
	b.pdf.Line(b.x(), b.y, b.x()+b.width(), b.y)
	b.font(regular, sheetLetters-1.2)
	b.text(b.x(), b.y+8, "signed, with role, date and time")
	b.y += 10
}
