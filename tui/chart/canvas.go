package chart

import (
	"strings"

	"github.com/charmbracelet/lipgloss"

	"loosebox/ranges"
	"loosebox/tui/theme"
)

// Dots of a cell of braille.
const (
	DotsWide = 2
	DotsHigh = 4
)

// Ink says what something on a canvas means, from which its style follows.
type Ink int

// The inks: what is usual, a limit of a level, the line through the values, a value of a level, and a number beside it.
const (
	InkBand Ink = iota
	InkRecheck
	InkTell
	InkLine
	InkText
	InkUsual // of a value, and the levels above it in their order
)

// InkOf is the ink of a value of a level.
func InkOf(l ranges.Level) Ink { return InkUsual + Ink(l) }

func (k Ink) style(t *theme.Theme) lipgloss.Style {
	switch k {
	case InkBand:
		return t.Faint
	case InkRecheck:
		return t.Limit(ranges.LevelRecheck)
	case InkTell:
		return t.Limit(ranges.LevelTell)
	case InkLine:
		return t.Good
	case InkText:
		return t.Strong
	case InkUsual:
	}
	return t.Level(ranges.Level(k - InkUsual))
}

type cell struct {
	sign rune // 0 for none
	dots uint8
	ink  Ink
}

// Canvas is a field of character cells, each with two by four braille dots for lines. Later drawing covers earlier.
type Canvas struct {
	t     *theme.Theme
	w, h  int
	cells []cell
}

// NewCanvas makes an empty field of w by h cells.
func NewCanvas(t *theme.Theme, w, h int) *Canvas {
	return &Canvas{t: t, w: w, h: h, cells: make([]cell, max(w, 0)*max(h, 0))}
}

// Put writes a text from a cell on, counted from 0 at the top left; what is outside the field is left out.
func (c *Canvas) Put(col, row int, text string, ink Ink) {
	for _, r := range text {
		if at := c.at(col, row); at != nil {
			*at = cell{sign: r, ink: ink}
		}
		col++
	}
}

// Free reports whether wide cells from this one on hold nothing but the band and limits.
func (c *Canvas) Free(col, row, wide int) bool {
	for i := range wide {
		at := c.at(col+i, row)
		if at == nil || at.dots != 0 || at.sign != 0 && at.ink > InkTell {
			return false
		}
	}
	return true
}

// Line draws a line between two dots, in dots from the top left.
func (c *Canvas) Line(x0, y0, x1, y1 int) {
	dx, dy := abs(x1-x0), -abs(y1-y0)
	sx, sy := sign(x1-x0), sign(y1-y0)
	for e := dx + dy; ; {
		c.dot(x0, y0)
		if x0 == x1 && y0 == y1 {
			return
		}
		twice := 2 * e
		if twice >= dy {
			e, x0 = e+dy, x0+sx
		}
		if twice <= dx {
			e, y0 = e+dx, y0+sy
		}
	}
}

// bits are the dots of a braille sign by column and row.
func bits(x, y int) uint8 {
	return [DotsHigh][DotsWide]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}[y][x]
}

func (c *Canvas) dot(x, y int) {
	at := c.at(x/DotsWide, y/DotsHigh)
	if at == nil || x < 0 || y < 0 {
		return
	}
	if at.dots == 0 {
		*at = cell{ink: InkLine}
	}
	at.dots |= bits(x%DotsWide, y%DotsHigh)
}

func (c *Canvas) at(col, row int) *cell {
	if col < 0 || row < 0 || col >= c.w || row >= c.h {
		return nil
	}
	return &c.cells[row*c.w+col]
}

// Rows is the field as one styled line for each row of cells.
func (c *Canvas) Rows() []string {
	rows := make([]string, c.h)
	for row := range rows {
		var out, run strings.Builder
		ink := InkBand
		flush := func(next Ink) {
			if run.Len() > 0 {
				out.WriteString(ink.style(c.t).Render(run.String()))
				run.Reset()
			}
			ink = next
		}
		for col := range c.w {
			at := c.at(col, row)
			r := at.sign
			switch {
			case at.dots != 0 && c.t.ASCII:
				r = '.'
			case at.dots != 0:
				r = 0x2800 + rune(at.dots)
			case r == 0:
				r = ' '
			}
			if r != ' ' && at.ink != ink {
				flush(at.ink)
			}
			run.WriteRune(r)
		}
		flush(InkBand)
		rows[row] = out.String()
	}
	return rows
}

func abs(n int) int { return max(n, -n) }

func sign(n int) int { return min(max(n, -1), 1) }
