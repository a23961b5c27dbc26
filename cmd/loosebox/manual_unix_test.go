//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox/manual"
)

// Every command of the manual works as it stands, in the yard of the demo, and every page
// is listed and read by its topic.
func TestTheManualIsFollowedWordByWord(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("manual/*.md")
	require.NoError(t, err)
	pages := manual.Pages()
	require.Len(t, pages, len(files), "each file is a page in the list")
	p := newPlace(t)
	// Nobody took the set exam in this yard.
	ends := map[string]int{"loosebox class spring.yaml": exitNotFound}
	for _, page := range pages {
		out, errOut, code := p.run("help", page.Topic)
		require.Zero(t, code, errOut)
		assert.True(t, strings.HasPrefix(out, page.Title+"\n\n"), out)
		for line := range strings.Lines(out) {
			assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\n"))), pageWidth, "%s: %s", page.Topic, line)
		}
		most := 550
		if page.Task {
			most = 300
		}
		assert.LessOrEqual(t, len(strings.Fields(page.Text)), most, "%s is read in two minutes", page.Topic)
		p.again()
		for _, line := range commandsOf(page) {
			words := shellWords().FindAllString(line, -1)
			for i, word := range words {
				words[i] = strings.Trim(word, `"`)
			}
			out, errOut, code := p.run(words[1:]...)
			assert.Equal(t, ends[line], code, "%s: %s: %s", page.Topic, line, errOut)
			assertDaysInWords(t, words, out+errOut)
		}
	}
	_, errOut, code := p.run("help", "exmining")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, `did you mean "examining"?`)
}

// commandsOf are the commands that a page shows, a line each.
func commandsOf(p manual.Page) []string {
	var out []string
	for line := range strings.Lines(p.Text) {
		if text, ok := strings.CutPrefix(line, "    loosebox"); ok {
			out = append(out, strings.TrimSpace("loosebox"+text))
		}
	}
	return out
}
