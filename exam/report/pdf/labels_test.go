package pdf

import (
	"bytes"
	"image"
	"image/color"
	"slices"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/boombuler/barcode/datamatrix"
	"github.com/makiuchi-d/gozxing"
	reader "github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
)

// drawn is a visit with a draw of two tubes, of which one is filled.
func drawn() (exam.Visit, []exam.Entry) {
	v := exam.Visit{
		ID: "01a22a5b-e441-7e5f-abc1-010f2147cf51", OpenedAt: at(),
		Horse: exam.Horse{Name: "Thistle of the Long Meadow Beyond", Chip: "985141000123456", Owner: "J. Marlowe", Place: "Hollow Farm, box 3"},
		Draws: []exam.Draw{{
			Number: 1, Order: exam.DrawOrder{For: "blood count", Tubes: []exam.Tube{{Kind: "EDTA", ML: 4}, {Kind: "serum", ML: 10}}},
			Filled: []exam.Filled{{Tube: exam.Tube{Kind: "EDTA", ML: 4, Label: "A17"}, Seq: 9}}, State: exam.DrawTube, Signed: exam.Signed{By: "Ann Bell", At: at()},
		}},
	}
	return v, []exam.Entry{{Seq: 9, At: at().Add(75e9)}}
}

func TestLabelsOfADraw(t *testing.T) {
	v, entries := drawn()
	labels := report.Labels(v, entries)
	require.Len(t, labels, 2, "one filled, one ordered and still empty")
	assert.Equal(t, "01A22A5B-E441-7E5F-ABC1-010F2147CF51/1/1", labels[0].Code)
	assert.Contains(t, labels[0].Lines[0], at().Add(75e9).Format("15:04"))
	assert.Contains(t, labels[1].Lines[0], "__:__")
	assert.Equal(t, "EDTA 4 mL, tube 1", labels[0].Lines[1])
	v.Draws[0].State = exam.DrawDone
	assert.Len(t, report.Labels(v, entries), 1, "of a draw that is over nothing waits")
}

// The code of a label is read by a decoder that is not of the library that wrote it, as it is printed: black squares in a
// quiet zone. "123456" is the worked example of ISO/IEC 16022 (from memory).
func TestTheCodeIsRead(t *testing.T) {
	v, entries := drawn()
	for _, text := range []string{report.Labels(v, entries)[0].Code, "123456", "01A22A5B-E441-7E5F-ABC1-010F2147CF51/12/24"} {
		code, err := datamatrix.Encode(text)
		require.NoError(t, err)
		side := 8 * (code.Bounds().Dx() + 2*quietZone)
		img := image.NewGray(image.Rect(0, 0, side, side))
		for y := range side {
			for x := range side {
				img.SetGray(x, y, color.Gray{Y: 255})
				if p := image.Pt(x/8-quietZone, y/8-quietZone); p.In(code.Bounds()) && black(code.At(p.X, p.Y)) {
					img.SetGray(x, y, color.Gray{})
				}
			}
		}
		bits, err := gozxing.NewBinaryBitmapFromImage(img)
		require.NoError(t, err)
		got, err := reader.NewDataMatrixReader().Decode(bits, nil)
		require.NoError(t, err, text)
		assert.Equal(t, text, got.GetText())
	}
}

// No number is cut on any stock, and whatever is cut shows it.
func TestNoPartOfANumberStandsForTheWhole(t *testing.T) {
	v, entries := drawn()
	for _, s := range Stocks() {
		p, err := setUp(fpdf.New("P", "mm", "A4", ""), "x", at())
		require.NoError(t, err)
		p.pdf.AddPage()
		one := report.Labels(v, entries)[0]
		lines := p.labelLines(one, s)
		texts := make([]string, len(lines))
		for i, l := range lines {
			texts[i] = l.text
			whole := slices.Contains(append(one.Lines, one.Name), l.text)
			assert.True(t, whole || strings.HasSuffix(l.text, ".."), "%s: %q", s.Name, l.text)
		}
		assert.Contains(t, texts, "chip 985141000123456", s.Name)
		assert.Contains(t, texts, "2 Mar 2026 09:01", s.Name)
		assert.Contains(t, texts[0], "Thistle of the Long", s.Name)
	}
}

// Every stock takes the labels on its paper, also a sheet that was begun, with modules that a reader can tell.
func TestEveryStock(t *testing.T) {
	v, entries := drawn()
	one := report.Labels(v, entries)[0]
	code, err := datamatrix.Encode(one.Code)
	require.NoError(t, err)
	for _, s := range Stocks() {
		labels := make([]report.TubeLabel, s.PerPage())
		for i := range labels {
			labels[i] = one
		}
		var out bytes.Buffer
		lost, err := WriteLabels(&out, s, labels, 0, at())
		require.NoError(t, err, s.Name)
		assert.Empty(t, lost)
		assert.Equal(t, 1, strings.Count(out.String(), "/Type /Page\n"), s.Name)
		if s.PerPage() > 1 {
			out.Reset()
			_, err = WriteLabels(&out, s, labels, 1, at())
			require.NoError(t, err)
			assert.Equal(t, 2, strings.Count(out.String(), "/Type /Page\n"), s.Name)
		}
		_, err = WriteLabels(&out, s, labels, s.PerPage(), at())
		require.ErrorContains(t, err, "can be left out")
		for place := range s.PerPage() {
			x, y := s.at(place)
			assert.True(t, x >= -1e-9 && y >= -1e-9 && x+s.Wide <= s.Paper[0]+1e-9 && y+s.High <= s.Paper[1]+1e-9, "%s %d", s.Name, place)
		}
		assert.GreaterOrEqual(t, codeSide(s)/float64(code.Bounds().Dx()+2*quietZone), 0.4, "%s: a module, mm", s.Name)
		found, ok := StockNamed(strings.ToLower(s.Name))
		assert.True(t, ok)
		assert.Equal(t, s, found)
	}
}
