package html_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/exam/report/html"
	"loosebox/exam/report/pdf"
	"loosebox/ranges"
)

// browser is a browser that prints without a window; empty where the machine has none.
func browser() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

func pages(b []byte) int {
	return bytes.Count(b, []byte("/Type /Page\n"))
}

// The page of HTML prints on as many sheets as the PDF has, or one more: the letters of a browser are its machine's own.
func TestItPrintsLikeThePDF(t *testing.T) {
	run := browser()
	if run == "" {
		t.Skip("no headless browser is on this machine: chromium prints the page where there is one")
	}
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	blocks := []report.Block{
		{Box: true, Lines: []report.BlockLine{{Label: "Horse  ", Text: "Bracken"}, {Label: "Chip  ", Text: "985141000123456"}}},
		{Heading: "vital signs", Table: &report.Table{Head: []string{"", "now", "usual", "last"}, Rows: []report.TableRow{{Cells: []string{"Heart rate", "64 /min", "28-44 /min", "36"}, Level: ranges.LevelTell}}}},
		{Heading: "for the veterinarian", Room: 3, Sign: []string{"Examined by Ann", "Veterinarian"}},
		{Heading: "out of range, in full", NewPage: true, Lines: []report.BlockLine{{Label: "tell the vet ", Text: "Heart rate", Level: ranges.LevelTell}}},
	}
	for _, name := range []string{"general", "heart", "gut", "skin", "limbs"} {
		b := report.Block{Heading: name}
		for range 12 {
			b.Lines = append(b.Lines, report.BlockLine{Label: "Some step, left upper  ", Text: "as the others, not cold"})
		}
		blocks = append(blocks, b)
	}
	series := chart.Series{Title: "Heart rate", Unit: notation.PerMinute, Points: []compare.TrendPoint{{At: at.AddDate(0, -1, 0), Value: 36}, {At: at, Value: 64, Level: exam.Level(3)}}}
	foot := `Bracken · chip 985141000123456 · "x" </style> \ OPEN`

	var page, sheet bytes.Buffer
	require.NoError(t, html.Write(&page, html.Page{Title: "Bracken, 2 March 2026", Head: []string{"Ridge Practice"}, Foot: foot, Blocks: blocks, Charts: []chart.Series{series}}))
	assert.NotContains(t, page.String(), "ZgotmplZ", "the foot is on every page")
	assert.NotContains(t, page.String(), `"x" </style>`)
	_, err := pdf.Write(&sheet, pdf.A4, pdf.Page{Title: "Bracken, 2 March 2026", Foot: foot, At: at, Blocks: blocks, Charts: []chart.Series{series}})
	require.NoError(t, err)

	dir := t.TempDir()
	in, out := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
	require.NoError(t, os.WriteFile(in, page.Bytes(), 0o600))
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	said, err := exec.CommandContext(ctx, run, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+in).CombinedOutput()
	require.NoError(t, err, "%s", said)
	printed, err := os.ReadFile(out)
	require.NoError(t, err)
	want := pages(sheet.Bytes())
	got := pages(printed)
	assert.GreaterOrEqual(t, got, 2, "the details begin on a page of their own")
	assert.LessOrEqual(t, got, want+1, "the PDF has %d", want)

	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not on this machine: what stands on which page is not read")
	}
	for n := 1; n <= got; n++ {
		at := strconv.Itoa(n)
		text, err := exec.CommandContext(ctx, reader, "-f", at, "-l", at, out, "-").Output()
		require.NoError(t, err)
		lines := 0
		for line := range strings.Lines(string(text)) {
			if strings.Contains(line, "Some step") || strings.Contains(line, "Examined by") {
				lines++
			}
		}
		assert.Positive(t, lines, "page %d holds a chart alone, or nothing:\n%s", n, text)
	}
}
