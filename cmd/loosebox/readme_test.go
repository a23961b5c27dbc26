package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The picture of the README is the golden screen itself. LOOSEBOX_UPDATE=1
// draws it again.
func TestPictureOfTheReadmeIsTheGoldenScreen(t *testing.T) {
	root := filepath.Join("..", "..")
	path := filepath.Join(root, "README.md")
	text := strings.ReplaceAll(read(t, path), "\r\n", "\n")
	before, rest, found := strings.Cut(text, "<!-- screen: ")
	require.True(t, found)
	name, rest, found := strings.Cut(rest, " -->\n")
	require.True(t, found)
	block, after, found := strings.Cut(rest, "<!-- end of screen -->")
	require.True(t, found)
	golden := strings.ReplaceAll(read(t, filepath.Join(root, "testdata", "screens", name+".txt")), "\r\n", "\n")
	want := "```text\n" + golden + "```\n"
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(before+"<!-- screen: "+name+" -->\n"+want+"<!-- end of screen -->"+after), 0o644)) //nolint:gosec // a document
		return
	}
	assert.Equal(t, want, block)
}

// Every command of the program stands in the README.
func TestReadmeNamesEveryCommand(t *testing.T) {
	text := read(t, filepath.Join("..", "..", "README.md"))
	for _, c := range (&env{}).root().Commands() {
		assert.Contains(t, text, "`"+c.Name(), c.Name())
	}
}
