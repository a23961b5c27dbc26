package pdf

import (
	"loosebox/exam/report/chart"
)

// canvas draws a chart with the paths of the PDF.
type canvas struct{ *paper }

func (c canvas) pen(pen chart.Pen) {
	grey, width := 0, 0.7
	c.pdf.SetDashPattern(nil, 0)
	switch pen {
	case chart.Band:
		grey = 218
	case chart.Own:
		grey = 90
		c.pdf.SetDashPattern([]float64{3, 2}, 0)
	case chart.Axis, chart.Trace:
		grey = 110
	case chart.Apart:
		grey = 150
		c.pdf.SetDashPattern([]float64{1.5, 2.5}, 0)
	case chart.Mark:
	case chart.Loud:
		width = 1.2
	}
	c.pdf.SetLineWidth(width)
	c.pdf.SetDrawColor(grey, grey, grey)
	c.pdf.SetFillColor(grey, grey, grey)
}

func (c canvas) Rect(x, y, w, h float64, pen chart.Pen) {
	c.pen(pen)
	c.pdf.Rect(x, y, w, h, "F")
}

func (c canvas) Polyline(points [][2]float64, pen chart.Pen) {
	c.pen(pen)
	for i := 1; i < len(points); i++ {
		c.pdf.Line(points[i-1][0], points[i-1][1], points[i][0], points[i][1])
	}
	c.pdf.SetDashPattern(nil, 0)
}

func (c canvas) Circle(x, y, r float64, filled bool, pen chart.Pen) {
	c.pen(pen)
	if filled {
		c.pdf.Circle(x, y, r, "F")
		return
	}
	c.pdf.SetFillColor(255, 255, 255)
	c.pdf.Circle(x, y, r, "FD")
}

func (c canvas) Text(x, y, size float64, anchor chart.Anchor, text string) {
	c.font(regular, size)
	text = c.known(text)
	switch anchor {
	case chart.Start:
	case chart.Middle:
		x -= c.pdf.GetStringWidth(text) / 2
	case chart.End:
		x -= c.pdf.GetStringWidth(text)
	}
	c.pdf.Text(x, y, text)
}
