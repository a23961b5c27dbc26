package pdf

import (
	"strings"

	"loosebox/exam/report"
)

// codes are the boxes of rows whose list of numbers stands further up, two side by side.
func (b *board) codes(rows []report.SheetStep) {
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

// row rules one step: its name, its caution, then boxes to tick, or blanks.
func (b *board) row(row report.SheetStep) {
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
		b.say(regular, sheetLetters-1.4, "Caution: "+row.Caution)
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
func (b *board) coded(row report.SheetStep) {
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
func (b *board) beside(row report.SheetStep) {
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
func (b *board) blanks(row report.SheetStep) {
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
