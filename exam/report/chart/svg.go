package chart

import (
	"fmt"
	"html"
	"strings"
)

// SVG draws the series as one self-contained SVG element whose colours come from
// the page: currentColor and a class for each pen.
func SVG(s Series) string {
	c := &svg{}
	Draw(c, 0, 0, s)
	return fmt.Sprintf(`<svg class="chart" viewBox="0 0 %g %g" role="img" aria-label="%s">%s</svg>`,
		Width, Height, html.EscapeString(s.Title+" over time"), c.b.String())
}

type svg struct{ b strings.Builder }

func class(pen Pen) string {
	return [...]string{"band", "own", "axis", "trace", "apart", "mark", "loud"}[pen]
}

func (c *svg) Rect(x, y, w, h float64, pen Pen) {
	fmt.Fprintf(&c.b, `<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, class(pen), x, y, w, h)
}

func (c *svg) Polyline(points [][2]float64, pen Pen) {
	places := make([]string, len(points))
	for i, p := range points {
		places[i] = fmt.Sprintf("%.1f,%.1f", p[0], p[1])
	}
	fmt.Fprintf(&c.b, `<polyline class="%s" points="%s"/>`, class(pen), strings.Join(places, " "))
}

func (c *svg) Circle(x, y, r float64, filled bool, pen Pen) {
	fill := ""
	if filled {
		fill = " filled"
	}
	fmt.Fprintf(&c.b, `<circle class="%s%s" cx="%.1f" cy="%.1f" r="%.1f"/>`, class(pen), fill, x, y, r)
}

func (c *svg) Text(x, y, size float64, anchor Anchor, text string) {
	end := [...]string{"start", "middle", "end"}[anchor]
	fmt.Fprintf(&c.b, `<text x="%.1f" y="%.1f" font-size="%.1f" text-anchor="%s">%s</text>`, x, y, size, end, html.EscapeString(text))
}
