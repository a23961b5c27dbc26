package pdf

import (
	"fmt"
	"image/color"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/boombuler/barcode/datamatrix"

	"loosebox/exam/notation"
	"loosebox/exam/report"
)

// Stock is a sheet or a roll of labels; lengths are millimetres.
type Stock struct {
	Name, Words  string
	Paper        [2]float64 // width and height; of a roll those of one label
	Wide, High   float64    // of one label
	Across, Down int
	GapX, GapY   float64 // between two labels
}

// Stocks are the label sizes that printers of a practice commonly take: two rolls, and a sheet each of A4 and of Letter
// (sizes from memory). The labels of a sheet are centred on it, which gives the margins that such sheets have.
func Stocks() []Stock {
	return []Stock{
		{"50x25", "a roll of 50 x 25 mm", [2]float64{50, 25}, 50, 25, 1, 1, 0, 0},
		{"57x32", "a roll of 57 x 32 mm", [2]float64{57, 32}, 57, 32, 1, 1, 0, 0},
		{"A4-65", "A4, 65 labels of 38.1 x 21.2 mm", [2]float64{210, 297}, 38.1, 21.2, 5, 13, 2.5, 0},
		{"Letter-30", "Letter, 30 labels of 2 5/8 x 1 in", [2]float64{215.9, 279.4}, 66.675, 25.4, 3, 10, 3.175, 0},
	}
}

// StockNamed finds a stock, whatever the case of its name.
func StockNamed(name string) (Stock, bool) {
	for _, s := range Stocks() {
		if strings.EqualFold(s.Name, name) {
			return s, true
		}
	}
	return Stock{}, false
}

// PerPage is how many labels a page of the stock has.
func (s Stock) PerPage() int { return s.Across * s.Down }

// at is the upper left corner of a place of a page, counted from 0 along the rows.
func (s Stock) at(place int) (x, y float64) {
	left := (s.Paper[0] - float64(s.Across)*s.Wide - float64(s.Across-1)*s.GapX) / 2
	top := (s.Paper[1] - float64(s.Down)*s.High - float64(s.Down-1)*s.GapY) / 2
	return left + float64(place%s.Across)*(s.Wide+s.GapX), top + float64(place/s.Across)*(s.High+s.GapY)
}

// What a label keeps free, and the least side of a module of its code that hand readers commonly tell (from memory: 10 mil,
// 0.25 mm); ours are 0.4 mm and more.
const (
	labelPad  = 1.8
	mostCode  = 0.36 // of the width
	smallest  = 4.6  // points
	quietZone = 1    // modules around a Data Matrix (ISO/IEC 16022)
)

// WriteLabels sets labels on a stock; the first skip places of the first page stay empty, for a sheet that was begun. It
// returns the characters that the font lacks. An error is a *notation.Refusal where skip is no place of a page.
func WriteLabels(w io.Writer, stock Stock, labels []report.TubeLabel, skip int, at time.Time) ([]rune, error) {
	if skip < 0 || skip >= stock.PerPage() {
		return nil, &notation.Refusal{Why: fmt.Sprintf("a page of %s has %d labels: 0 to %d can be left out", stock.Name, stock.PerPage(), stock.PerPage()-1)}
	}
	way := "P"
	if stock.Paper[0] > stock.Paper[1] {
		way = "L"
	}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: way, UnitStr: "mm", Size: fpdf.SizeType{Wd: min(stock.Paper[0], stock.Paper[1]), Ht: max(stock.Paper[0], stock.Paper[1])}})
	p, err := setUp(f, "Tube labels", at)
	if err != nil {
		return nil, err
	}
	for i, l := range labels {
		place := (i + skip) % stock.PerPage()
		if i == 0 || place == 0 {
			f.AddPage()
		}
		x, y := stock.at(place)
		if err := p.label(l, x, y, stock); err != nil {
			return nil, err
		}
	}
	return p.write(w)
}

// label sets the code at the right and the words beside it.
func (p *paper) label(l report.TubeLabel, x, y float64, s Stock) error {
	side := codeSide(s)
	if err := p.dataMatrix(l.Code, x+s.Wide-labelPad-side, y+(s.High-side)/2, side); err != nil {
		return err
	}
	down := y + labelPad
	for _, line := range p.labelLines(l, s) {
		p.font(line.style, line.size)
		down += p.pdf.PointConvert(line.size * 1.15)
		p.pdf.Text(x+labelPad, down, line.text)
	}
	return nil
}

func codeSide(s Stock) float64 { return min(s.High-2*labelPad, s.Wide*mostCode) }

// sized is a line in the size in which it fits.
type sized struct {
	text, style string
	size        float64
}

// labelLines are as many lines as fit, the name first. A line that is too wide is set smaller; what is too wide even so ends
// in two dots, so that nobody takes a part of a name or a number for the whole.
func (p *paper) labelLines(l report.TubeLabel, s Stock) []sized {
	room, left := s.Wide-codeSide(s)-3*labelPad, s.High-2*labelPad
	out := make([]sized, 0, 1+len(l.Lines))
	body := min(6.5, p.inPoints(left-p.pdf.PointConvert(9*1.15))/1.15/float64(max(len(l.Lines), 1)))
	for i, text := range append([]string{l.Name}, l.Lines...) {
		line := sized{p.known(text), regular, max(body, smallest)}
		if i == 0 {
			line.style, line.size = bold, 9
		}
		for p.font(line.style, line.size); p.pdf.GetStringWidth(line.text) > room && line.size > smallest; p.font(line.style, line.size) {
			line.size = max(line.size-0.2, smallest)
		}
		if p.pdf.GetStringWidth(line.text) > room {
			line.text = p.cut(line.text, room-p.pdf.GetStringWidth("..")) + ".."
		}
		if left -= p.pdf.PointConvert(line.size * 1.15); left < 0 {
			break
		}
		out = append(out, line)
	}
	return out
}

func (p *paper) inPoints(mm float64) float64 { return mm / p.pdf.PointConvert(1) }

// dataMatrix draws a code as black squares, with its quiet zone inside the side.
func (p *paper) dataMatrix(text string, x, y, side float64) error {
	code, err := datamatrix.Encode(text)
	if err != nil {
		return fmt.Errorf("the code of the label cannot be made: %w", err)
	}
	b := code.Bounds()
	module := side / float64(b.Dx()+2*quietZone)
	p.pdf.SetFillColor(0, 0, 0)
	for row := range b.Dy() {
		for from := 0; from < b.Dx(); from++ {
			to := from
			for to < b.Dx() && black(code.At(b.Min.X+to, b.Min.Y+row)) {
				to++
			}
			if to > from { // a run of squares as one, so that no hairline parts them
				p.pdf.Rect(x+float64(from+quietZone)*module, y+float64(row+quietZone)*module, float64(to-from)*module, module, "F")
				from = to
			}
		}
	}
	return nil
}

func black(c color.Color) bool {
	r, _, _, _ := c.RGBA()
	return r < 0x8000
}
