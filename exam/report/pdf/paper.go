package pdf

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// PaperSize is a size of paper.
type PaperSize string

// The sizes.
const (
	A4     PaperSize = "A4"
	Letter PaperSize = "Letter"
)

const (
	margin  = 34.0 // points, about 12 mm
	foot    = 24.0
	regular = ""
	bold    = "B"
)

// paper is a PDF being written, points from the top left.
type paper struct {
	pdf  *fpdf.Fpdf
	face *sfnt.Font
	buf  sfnt.Buffer
	lost []rune // what the font lacks, each once
	w, h float64
}

func newPaper(size PaperSize, title, foot string, at time.Time) (*paper, error) {
	f := fpdf.New("P", "pt", string(size), "")
	p, err := setUp(f, title, at)
	if err != nil {
		return nil, err
	}
	f.SetMargins(margin, margin, margin)
	p.w, p.h = f.GetPageSize()
	f.AliasNbPages("{pages}")
	f.SetFooterFunc(func() { p.footer(p.known(cmp.Or(foot, title))) })
	f.AddPage()
	return p, nil
}

// setUp gives a PDF its fonts and its dates; it has no page yet.
func setUp(f *fpdf.Fpdf, title string, at time.Time) (*paper, error) {
	face, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("the font cannot be read: %w", err)
	}
	f.SetCatalogSort(true)
	f.SetCreationDate(at.UTC())
	f.SetModificationDate(at.UTC())
	f.SetProducer("loosebox", true)
	f.SetLang("en")
	f.AddUTF8FontFromBytes("go", regular, goregular.TTF)
	f.AddUTF8FontFromBytes("go", bold, gobold.TTF)
	f.SetAutoPageBreak(false, 0)
	p := &paper{pdf: f, face: face}
	f.SetTitle(p.known(title), true)
	return p, nil
}

func (p *paper) footer(title string) {
	p.font(regular, 7)
	p.pdf.SetTextColor(70, 70, 70)
	base := p.h - foot + 8
	p.pdf.Text(margin, base, p.cut(title, p.w-2*margin-52))
	p.pdf.Text(p.w-margin-45, base, fmt.Sprintf("page %d of {pages}", p.pdf.PageNo()))
	if len(p.lost) > 0 {
		p.pdf.Text(margin, base+9, "printed as ?, because the font lacks them: "+names(p.lost))
	}
	p.pdf.SetTextColor(0, 0, 0)
}

// names lists characters by their Unicode numbers.
func names(lost []rune) string {
	out := make([]string, 0, len(lost))
	for i, r := range lost {
		if i == 12 {
			out = append(out, "and more")
			break
		}
		out = append(out, fmt.Sprintf("U+%04X", r))
	}
	return strings.Join(out, ", ")
}

func (p *paper) font(style string, size float64) { p.pdf.SetFont("go", style, size) }

// known replaces what the font has no sign for.
func (p *paper) known(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' {
			return ' '
		}
		if i, err := p.face.GlyphIndex(&p.buf, r); err == nil && i != 0 && r < 0x10000 {
			return r
		}
		if !slices.Contains(p.lost, r) {
			p.lost = append(p.lost, r)
		}
		return '?'
	}, text)
}

// wrap breaks a text into lines of at most width points in the present font.
func (p *paper) wrap(text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(p.known(text)) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if p.pdf.GetStringWidth(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for p.pdf.GetStringWidth(word) > width { // one word wider than the column
			head := p.cut(word, width)
			lines, word = append(lines, head), word[len(head):]
		}
		line = word
	}
	return append(lines, line)
}

// cut is as much of a text as fits, at least one character.
func (p *paper) cut(text string, width float64) string {
	runes := []rune(text)
	n := len(runes)
	for n > 1 && p.pdf.GetStringWidth(string(runes[:n])) > width {
		n--
	}
	return string(runes[:n])
}

func (p *paper) write(w io.Writer) ([]rune, error) {
	if err := p.pdf.Output(w); err != nil {
		return nil, fmt.Errorf("the PDF cannot be written: %w", err)
	}
	return p.lost, nil
}
