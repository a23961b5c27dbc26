package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox/manual"
	"loosebox/tui/keys"
)

// TestPictureOfTheReadme: the README shows every picture that tests draw from the screens (screentest.Driver.Picture), and no other.
func TestPictureOfTheReadme(t *testing.T) {
	root := filepath.Join("..", "..")
	files, err := os.ReadDir(filepath.Join(root, "testdata", "pictures"))
	require.NoError(t, err)
	var drawn []string
	for _, f := range files {
		drawn = append(drawn, "testdata/pictures/"+f.Name())
	}
	var shown []string
	for _, m := range regexp.MustCompile(`!\[[^\]]+\]\(([^)]+)\)`).FindAllStringSubmatch(read(t, filepath.Join(root, "README.md")), -1) {
		shown = append(shown, m[1])
	}
	assert.ElementsMatch(t, drawn, shown)
	assert.Len(t, shown, 4, "the count, the review, the comparison, the trend")
}

// The README is read in three minutes, and names every page of the manual.
func TestReadmeIsShort(t *testing.T) {
	text := read(t, filepath.Join("..", "..", "README.md"))
	assert.LessOrEqual(t, len(strings.Fields(text)), 800)
	for _, p := range manual.Pages() {
		assert.Contains(t, text, "`"+p.Topic+"`")
	}
	for _, command := range []string{"go install ./cmd/loosebox ", "go run ./cmd/loosebox demo ", "go test ./...\n"} {
		assert.Contains(t, text, "\n"+command)
	}
	language := regexp.MustCompile(`(?m)^go (\d+\.\d+)`).FindStringSubmatch(read(t, filepath.Join("..", "..", "go.mod")))
	require.NotNil(t, language)
	assert.Contains(t, text, "Go "+language[1]+" or newer")
}

// Every command of the program stands in the manual, at the head of a line of the list, under the heading that the help
// shows it under.
func TestManualNamesEveryCommand(t *testing.T) {
	page, ok := manual.Of("commands")
	require.True(t, ok)
	heads := map[string]string{} // of the items, by heading
	for _, section := range strings.Split(page.Text, "\n## ")[1:] {
		heading, text, _ := strings.Cut(section, "\n")
		for _, item := range strings.Split(text, "\n- ")[1:] {
			head, _, found := strings.Cut(item, ":")
			require.True(t, found, item)
			heads[heading+":"] += head + "\n"
		}
	}
	root := (&env{}).root()
	titles := map[string]string{}
	for _, g := range root.Groups() {
		titles[g.ID] = g.Title
		assert.Contains(t, heads, g.Title)
	}
	for _, c := range root.Commands() {
		assert.Regexp(t, `(?m)(^|, )`+c.Name()+`\b`, heads[titles[c.GroupID]], "under %s", titles[c.GroupID])
		_, shadowed := manual.Of(c.Name())
		assert.False(t, shadowed, "help %s is about the command", c.Name())
	}
}

// The manual has the table of what each key means.
func TestManualHasTheMeaningOfEachKey(t *testing.T) {
	page, ok := manual.Of("keyboard")
	require.True(t, ok)
	_, list, _ := strings.Cut(page.Text, "## One key, one meaning\n")
	list, _, _ = strings.Cut(list, "## ")
	var want []string
	for _, m := range keys.Meanings() {
		want = append(want, "- "+m.Key+": "+m.Means+".")
	}
	var got []string
	for line := range strings.Lines(list) {
		if strings.HasPrefix(line, "- ") {
			got = append(got, strings.TrimSpace(line))
		}
	}
	assert.Equal(t, want, got)
}

// A page of the manual says the same as roff as it says in the terminal: each word, in its order.
func TestManualPagesSayWhatHelpSays(t *testing.T) {
	words := func(text string) []string {
		return strings.Fields(regexp.MustCompile(`(?m)^(-{3,}|- )|\\$`).ReplaceAllString(text, " "))
	}
	macros := map[string]bool{"nh": true, "TH": true, "SH": true, "SS": true, "PP": true, "IP": true, "EX": true, "EE": true, "RS": true, "RE": true, "in": true, "nf": true, "fi": true, "br": true}
	unescape := strings.NewReplacer(`\-`, "-", `\(aq`, "'", `\(bu`, "", `\(en`, "", `\[en]`, "", `\&`, "", `\fB`, "", `\fR`, "", `\fI`, "", `\fP`, "", `\\`, `\`, `\(cq`, "'", `\(ha`, "^", `\(ti`, "~")
	for _, p := range manual.Pages() {
		roff := string(topicPage(p, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)))
		assert.Regexp(t, `(?m)^\.TH "LOOSEBOX" "7" "Mar 2026" "loosebox"$`, roff)
		_, body, found := strings.Cut(roff, ".SH DESCRIPTION\n")
		require.True(t, found, roff)
		var said strings.Builder
		for line := range strings.Lines(body) {
			if macro, ok := strings.CutPrefix(line, "."); ok {
				name := regexp.MustCompile(`^\w*`).FindString(macro)
				require.True(t, macros[name], "%s: %s is no macro of a manual page", p.Topic, line)
				if name != "SH" && name != "SS" {
					continue
				}
				line = strings.TrimPrefix(macro, name)
			}
			said.WriteString(unescape.Replace(line))
		}
		assert.NotContains(t, said.String(), `\(`, p.Topic)
		assert.Equal(t, words(setPage(p.Text)), words(said.String()), p.Topic)
	}
}

// What DEVELOPERS.md names is there, and it is read in a quarter of an hour.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	root := filepath.Join("..", "..")
	text := read(t, filepath.Join(root, "DEVELOPERS.md"))
	assert.Less(t, strings.Count(text, "\n"), 250)
	named := regexp.MustCompile("(?:`|\\]\\()((?:cmd|exam|ranges|storage|tui|testdata|\\.ci)/[a-z0-9A-Z_./-]+)[`)]").FindAllStringSubmatch(text, -1)
	assert.Greater(t, len(named), 40)
	for _, m := range named {
		_, err := os.Stat(filepath.Join(root, m[1]))
		assert.NoError(t, err)
	}
	for _, m := range regexp.MustCompile("`(Test[A-Z]\\w+)`").FindAllStringSubmatch(text, -1) {
		assert.True(t, testExists(t, root, m[1]), "%s is the name of a test", m[1])
	}
}

// testExists looks for a test function of a name in the test files below root.
func testExists(t *testing.T, root, name string) bool {
	t.Helper()
	found := false
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || found || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		content, err := os.ReadFile(path)
		found = strings.Contains(string(content), "func "+name+"(")
		return err
	}))
	return found
}
