package screentest

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"loosebox/tui/layout"
)

// The size of a cell of a picture, and of the edge round it, in pixels.
const (
	cellW, cellH = 9, 20
	edge         = 12
)

// palette is the colours of a terminal: its paper, its ink and its sixteen.
type palette struct {
	paper, ink string
	sixteen    [16]string
}

func paletteOf(theme string) palette {
	p := palette{paper: "#16181c", ink: "#d8dade", sixteen: [16]string{
		"#16181c", "#b3262e", "#3f9d54", "#b58900", "#3b6fc4", "#9a4fb0", "#2e9aa8", "#c8cacf",
		"#6b7078", "#f0616a", "#6ecb7f", "#f2cf5b", "#79a8f5", "#cf8ee0", "#6fd3de", "#ffffff",
	}}
	if theme == "light" || theme == "sunlight" {
		p.paper, p.ink = "#fbfbf8", "#1c1e22"
		p.sixteen[0], p.sixteen[4], p.sixteen[7] = "#fbfbf8", "#1f4fa3", "#1c1e22"
	}
	return p
}

// pen is how a cell is drawn.
type pen struct {
	bold, faint, reverse bool
	fore, back           string // empty for ink and paper
}

// svg draws lines with the colours of a terminal. Rules, blocks and braille are drawn as shapes, not with a font.
func svg(lines []string, size layout.Size, theme string) string {
	p := paletteOf(theme)
	w, h := size.W*cellW+2*edge, size.H*cellH+2*edge
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="15">`+"\n", w, h, w, h)
	fmt.Fprintf(&out, `<rect width="%d" height="%d" rx="8" fill="%s"/>`+"\n", w, h, p.paper)
	for row, line := range lines {
		drawLine(&out, p, row, line)
	}
	out.WriteString("</svg>\n")
	return out.String()
}

// drawLine writes one line of the screen: a text for every stretch of one pen, a shape for every sign that is one.
func drawLine(out *strings.Builder, p palette, row int, line string) {
	now, col := pen{}, 0
	text, from := "", 0
	shapes, shade := "", ""
	flush := func() {
		if shapes != "" {
			fore, _, opacity := now.colours(p)
			fmt.Fprintf(out, `<path d="%s" fill="%s"%s%s/>`+"\n", shapes, fore, opacity, shade)
			shapes = ""
		}
		if strings.TrimSpace(text) != "" || now.back != "" || now.reverse {
			drawText(out, p, now, row, from, text)
		}
		text, from = "", col
	}
	for i := 0; i < len(line); {
		if strings.HasPrefix(line[i:], "\x1b[") {
			end := i + strings.IndexByte(line[i:], 'm')
			flush()
			now = now.with(line[i+2 : end])
			i = end + 1
			continue
		}
		r := []rune(line[i:min(i+4, len(line))])[0]
		if shape := drawShape(r, edge+col*cellW, edge+row*cellH); shape != "" {
			light := ""
			if r == '░' {
				light = ` fill-opacity="0.3"`
			}
			if text != "" || light != shade {
				flush()
			}
			shapes, shade = shapes+shape, light
			col++
			from = col
		} else {
			if shapes != "" {
				flush()
			}
			text += string(r)
			col++
		}
		i += len(string(r))
	}
	flush()
}

func drawText(out *strings.Builder, p palette, now pen, row, col int, text string) {
	x, y, wide := edge+col*cellW, edge+row*cellH, len([]rune(text))*cellW
	fore, back, opacity := now.colours(p)
	if back != p.paper {
		fmt.Fprintf(out, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s"/>`+"\n", x, y, wide, cellH, back)
	}
	start := len(text) - len(strings.TrimLeft(text, " "))
	text = strings.TrimRight(text, " ")
	if text == "" {
		return
	}
	x, text = x+start*cellW, text[start:]
	weight := ""
	if now.bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(out, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs" xml:space="preserve" fill="%s"%s%s>%s</text>`+"\n",
		x, y+15, len([]rune(text))*cellW, fore, weight, opacity, html.EscapeString(text))
}

func (n pen) colours(p palette) (fore, back, opacity string) {
	fore, back = n.fore, n.back
	if fore == "" {
		fore = p.ink
	} else if i, err := strconv.Atoi(fore); err == nil {
		fore = p.sixteen[i]
	}
	if back == "" {
		back = p.paper
	} else if i, err := strconv.Atoi(back); err == nil {
		back = p.sixteen[i]
	}
	if n.reverse {
		fore, back = back, fore
	}
	if n.faint {
		opacity = ` opacity="0.6"`
	}
	return fore, back, opacity
}

// with is the pen after the numbers of a sequence that ends in m.
func (n pen) with(codes string) pen {
	for _, code := range strings.Split(codes, ";") {
		c, _ := strconv.Atoi(code)
		switch {
		case c == 0:
			n = pen{}
		case c == 1:
			n.bold = true
		case c == 2:
			n.faint = true
		case c == 7:
			n.reverse = true
		case c >= 30 && c <= 37:
			n.fore = strconv.Itoa(c - 30)
		case c >= 40 && c <= 47:
			n.back = strconv.Itoa(c - 40)
		case c >= 90 && c <= 97:
			n.fore = strconv.Itoa(c - 90 + 8)
		case c >= 100 && c <= 107:
			n.back = strconv.Itoa(c - 100 + 8)
		}
	}
	return n
}

// drawShape is the path of a rule, a block or a braille sign in the cell at x and y; empty for a letter.
func drawShape(r rune, x, y int) string {
	box := func(left, top, w, h float64) string {
		return fmt.Sprintf("M%g %gh%gv%gh-%gz", float64(x)+left, float64(y)+top, w, h, w)
	}
	middle := float64(cellH)/2 - 0.5
	switch {
	case r == '─' || r == '━':
		return box(0, middle, cellW, 1)
	case r == '═':
		return box(0, middle-1.5, cellW, 4)
	case r == '┄':
		return box(0, middle, 3, 1) + box(5, middle, 3, 1)
	case r == '│':
		return box(4, 0, 1, cellH)
	case r == '┼':
		return box(0, middle, cellW, 1) + box(4, 4, 1, cellH-8)
	case r == '└':
		return box(4, 0, 1, middle+1) + box(4, middle, cellW-4, 1)
	case r == '┬':
		return box(0, middle, cellW, 1) + box(4, middle, 1, cellH/2)
	case r == '█' || r == '░':
		return box(0, 0, cellW, cellH)
	case r >= '▁' && r <= '▇':
		high := float64(r-'▁'+1) * cellH / 8
		return box(1, cellH-high, cellW-2, high)
	case r > 0x2800 && r <= 0x28ff:
		return braille(int(r-0x2800), box)
	}
	return ""
}

func braille(dots int, box func(left, top, w, h float64) string) string {
	path := ""
	for i, at := range [8][2]float64{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}} {
		if dots&(1<<i) != 0 {
			path += box(1+at[0]*4.5, 1+at[1]*5, 2.5, 2.5)
		}
	}
	return path
}
