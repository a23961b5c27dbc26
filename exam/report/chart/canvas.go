package chart

// Pen says what a stroke or an area stands for; the canvas chooses how it looks.
type Pen int

// The pens.
const (
	Band  Pen = iota // the area of what is usual
	Own              // the ends of the horse's own range
	Axis             // rules of the frame
	Trace            // the line from value to value
	Apart            // the same over a long gap
	Mark             // a value
	Loud             // a value that stands out
)

// Anchor says which end of a text is at its place.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Canvas takes strokes in points (1/72 inch) from the top left.
type Canvas interface {
	Rect(x, y, w, h float64, pen Pen)
	Polyline(points [][2]float64, pen Pen)
	Circle(x, y, r float64, filled bool, pen Pen)
	// Text writes one line with its base at y.
	Text(x, y, size float64, anchor Anchor, text string)
}
