package pdf

import (
	"bytes"
	"compress/zlib"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func at() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

func sample(text string) Page {
	low, high := 28.0, 44.0
	return Page{
		Title: "Bracken, 2 March 2026", At: at(),
		Blocks: []report.Block{
			{Lines: []report.BlockLine{{Text: text}, {Label: "Owner  ", Text: text}}},
			{Heading: "out of range", Lines: []report.BlockLine{{Label: "tell the vet ", Text: text, Level: ranges.LevelTell}, {Label: "             ", Text: "source"}}},
		},
		Charts: []chart.Series{{Title: "Heart rate", Unit: notation.PerMinute, Points: []compare.TrendPoint{
			{At: at().AddDate(0, -1, 0), Value: 36, Low: &low, High: &high}, {At: at(), Value: 64, Level: ranges.LevelTell, Low: &low, High: &high},
		}}},
	}
}

// Standards facts, section 3: fixed dates and a sorted catalogue give two files of the same bytes.
func TestTheSamePageGivesTheSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	_, err := Write(&a, A4, sample("usual"))
	require.NoError(t, err)
	_, err = Write(&b, A4, sample("usual"))
	require.NoError(t, err)
	assert.Equal(t, a.Bytes(), b.Bytes())
	assert.True(t, bytes.HasPrefix(a.Bytes(), []byte("%PDF-")))
}

// Standards facts, section 3: the Go fonts lack the tick mark and Japanese, and have the degree sign, accents, Greek
// and Cyrillic.
func TestWhatTheFontLacksIsReported(t *testing.T) {
	var b bytes.Buffer
	lost, err := Write(&b, Letter, sample("日本 ✓ 38.4 °C é Ž Ω Ж ½ ≥ ≤ ± µ 🐴"))
	require.NoError(t, err)
	assert.Equal(t, []rune("日本✓🐴"), lost)
	lost, err = Write(&b, A4, sample("plain"))
	require.NoError(t, err)
	assert.Empty(t, lost)
}

// Whatever a text holds, it is set: no line is wider than its column and no word is lost.
func TestEveryTextIsSet(t *testing.T) {
	p, err := newPaper(A4, "t", "", at())
	require.NoError(t, err)
	p.font(regular, letters)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		width := rapid.Float64Range(20, 300).Draw(t, "width")
		lines := p.wrap(text, width)
		joined := ""
		for _, l := range lines {
			if len([]rune(l)) > 1 {
				assert.LessOrEqual(t, p.pdf.GetStringWidth(l), width+1e-6)
			}
			joined += l
		}
		assert.Equal(t, strings.Join(strings.Fields(p.known(text)), ""), strings.ReplaceAll(joined, " ", ""))
	})
}

// A long record runs on over pages; a heading keeps a line with it.
func TestALongPageGoesOn(t *testing.T) {
	p := sample("x")
	for range 40 {
		p.Blocks = append(p.Blocks, report.Block{Heading: "more", Lines: []report.BlockLine{{Label: "step", Text: strings.Repeat("word ", 80)}}})
	}
	var b bytes.Buffer
	_, err := Write(&b, A4, p)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, bytes.Count(b.Bytes(), []byte("/Type /Page\n")), 3)
}

func TestTheSheetIsSet(t *testing.T) {
	var b bytes.Buffer
	s := report.Sheet{Title: "Full exam", Parts: []report.SheetPart{{Heading: "at the door", Rows: []report.SheetStep{
		{Name: "Approach", Blanks: []string{""}, Choices: []string{"calm", strings.Repeat("very ", 60)}, Caution: "! keep out"},
		{Name: "Gut", Blanks: []string{"left upper", "left lower", "right upper", "right lower", "one more"}, Choices: []string{"heard", "none"}, Usual: "usual"},
	}}}}
	lost, err := WriteSheet(&b, Letter, s, at())
	require.NoError(t, err)
	assert.Empty(t, lost)
	assert.True(t, bytes.HasPrefix(b.Bytes(), []byte("%PDF-")))
}

// The full exam of a grown horse takes two pages at most, the five-minute check one, on both sizes of paper.
func TestTheSheetFitsItsPages(t *testing.T) {
	table := steps.Table()
	mare := exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: exam.Birth{Precision: exam.BornAdult}, Cautions: []string{"kicks"}, Chip: "985141000123456"}
	most := map[string]int{"full-exam": 2, "five-minute-check": 1, "tpr-recheck": 1}
	for _, r := range steps.Routines() {
		for _, horse := range []*exam.Horse{nil, &mare} {
			for _, size := range []PaperSize{A4, Letter} {
				var b bytes.Buffer
				_, err := WriteSheet(&b, size, report.NewSheet(r, table, nil, horse, exam.ClassOf(mare, at()), theJudge(t)), at())
				require.NoError(t, err)
				if n := most[r.Name]; n > 0 {
					assert.LessOrEqual(t, bytes.Count(b.Bytes(), []byte("/Type /Page\n")), n, "%s on %s", r.Name, size)
				}
			}
		}
	}
}

func theJudge(t *testing.T) *judge.Judge {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return judge.New(table, steps.Table())
}

// Every page says which animal it is of, by name and chip, and which page of how many.
func TestEveryPageNamesTheAnimal(t *testing.T) {
	p := sample("x")
	p.Foot = "Bracken · chip 985141000123456 · OPEN, not finished"
	for range 40 {
		p.Blocks = append(p.Blocks, report.Block{Heading: "more", Lines: []report.BlockLine{{Label: "step", Text: strings.Repeat("word ", 80)}}})
	}
	var b bytes.Buffer
	_, err := Write(&b, A4, p)
	require.NoError(t, err)
	pages := bytes.Count(b.Bytes(), []byte("/Type /Page\n"))
	require.Greater(t, pages, 2)
	assert.Equal(t, pages, streamsWith(t, b.Bytes(), "985141000123456"))
	assert.Equal(t, pages, streamsWith(t, b.Bytes(), "OPEN, not finished"))
	assert.Equal(t, 1, streamsWith(t, b.Bytes(), "page 2 of"))
}

// streamsWith counts the contents of pages in which a text stands: they are deflated, and texts are UTF-16.
func streamsWith(t *testing.T, file []byte, text string) int {
	t.Helper()
	var want []byte
	for _, r := range text {
		want = append(want, 0, byte(r))
	}
	n := 0
	for _, part := range bytes.Split(file, []byte("stream\n"))[1:] {
		z, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		content, _ := io.ReadAll(z) // the stream ends before the part does
		if bytes.Contains(content, want) {
			n++
		}
	}
	return n
}
