package entry

import (
	"strings"

	"loosebox/tui/theme"
)

// digitRows is the height of the large digits. A cell of a terminal is about
// twice as high as wide, so that every upright stroke is two columns.
const digitRows = 5

// digitShape is a digit on a grid of three by five, one string a row.
func digitShape(r rune) ([digitRows]string, bool) {
	switch r {
	case '0':
		return [...]string{"xxx", "x x", "x x", "x x", "xxx"}, true
	case '1':
		return [...]string{" x ", "xx ", " x ", " x ", "xxx"}, true
	case '2':
		return [...]string{"xxx", "  x", "xxx", "x  ", "xxx"}, true
	case '3':
		return [...]string{"xxx", "  x", " xx", "  x", "xxx"}, true
	case '4':
		return [...]string{"x x", "x x", "xxx", "  x", "  x"}, true
	case '5':
		return [...]string{"xxx", "x  ", "xxx", "  x", "xxx"}, true
	case '6':
		return [...]string{"xxx", "x  ", "xxx", "x x", "xxx"}, true
	case '7':
		return [...]string{"xxx", "  x", "  x", " x ", " x "}, true
	case '8':
		return [...]string{"xxx", "x x", "xxx", "x x", "xxx"}, true
	case '9':
		return [...]string{"xxx", "x x", "xxx", "  x", "xxx"}, true
	case '.':
		return [...]string{" ", " ", " ", " ", "x"}, true
	case '-':
		return [...]string{"   ", "   ", "xxx", "   ", "   "}, true
	default:
		return [digitRows]string{}, false
	}
}

// large writes a number in digits five rows high, with a word beside the last row where it fits; one plain line where the
// digits do not fit.
func large(t *theme.Theme, number, word string, width, height int) []string {
	var rows [digitRows]strings.Builder
	columns := 0
	for _, r := range number {
		shape, ok := digitShape(r)
		if !ok {
			continue
		}
		for i, cells := range shape {
			for _, cell := range cells {
				if cell == 'x' {
					rows[i].WriteString(t.Sign.Block + t.Sign.Block)
				} else {
					rows[i].WriteString("  ")
				}
			}
			rows[i].WriteString(" ")
		}
		columns += 2*len(shape[0]) + 1
	}
	if height < digitRows || columns > width {
		return []string{t.Digits.Render(number + " " + word)}
	}
	if columns+1+len(word) > width {
		word = "" // the digits matter more than their unit, which never changes here
	}
	out := make([]string, digitRows)
	for i := range rows {
		text := strings.TrimRight(rows[i].String(), " ")
		out[i] = t.Digits.Render(text)
		if i == digitRows-1 {
			out[i] += strings.Repeat(" ", max(columns-len([]rune(text)), 1)) + word
		}
	}
	return out
}
