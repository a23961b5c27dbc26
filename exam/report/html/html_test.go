package html_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
	"loosebox/exam/report/html"
	"loosebox/ranges"
)

const hostile = `</td><script>alert(1)</script><img src=x onerror=y>&"'`

func set(t *testing.T, text string) string {
	t.Helper()
	low := 28.0
	var b strings.Builder
	require.NoError(t, html.Write(&b, html.Page{
		Title:  text,
		Blocks: []report.Block{{Heading: text, Lines: []report.BlockLine{{Label: text, Text: text, Level: ranges.LevelTell}, {Label: " ", Text: text}}}},
		Charts: []chart.Series{{Title: text, Unit: notation.Unit(text), Points: []compare.TrendPoint{{At: time.Unix(0, 0), Value: 30, Low: &low}}}},
	}))
	return b.String()
}

// OWASP's rule for text in HTML: whatever a name holds, it stays text.
func TestHostileTextStaysText(t *testing.T) {
	page := set(t, hostile)
	assert.NotContains(t, page, "<script")
	assert.NotContains(t, page, "<img")
	assert.Equal(t, 9, strings.Count(page, "&lt;script&gt;alert(1)"), "every place has it, as text")
}

// One file, nothing fetched, light and dark, made to print.
func TestThePageStandsAlone(t *testing.T) {
	page := set(t, "Bracken")
	for _, never := range []string{"http://", "https://", "src=", "href=", "url(", "@import", "<script"} {
		assert.NotContains(t, page, never)
	}
	for _, want := range []string{"prefers-color-scheme: dark", "@media print", "@page", `lang="en"`, "default-src 'none'", "<svg", `scope="row"`} {
		assert.Contains(t, page, want)
	}
}
