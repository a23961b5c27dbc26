package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

// Every command of the program stands in the README.
func TestReadmeNamesEveryCommand(t *testing.T) {
	text := read(t, filepath.Join("..", "..", "README.md"))
	for _, c := range (&env{}).root().Commands() {
		assert.Contains(t, text, "`"+c.Name(), c.Name())
	}
}
