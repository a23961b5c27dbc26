package ownfile_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/ownfile"
)

// TestChanges: kitten to sitting takes three changes, the textbook example.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}, {"flaw", "lawn", 2}} {
		assert.Equal(t, c.want, ownfile.Changes([]rune(c.a), []rune(c.b)), "%s %s", c.a, c.b)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"heart.rate", "breath.rate", "gum.colour"}
	assert.Equal(t, 0, ownfile.Nearest("hart.rate", known))
	assert.Equal(t, 2, ownfile.Nearest("GUM", known), "cut short")
	assert.Equal(t, -1, ownfile.Nearest("zzzzzz", known))
	assert.Equal(t, -1, ownfile.Nearest("x", nil))
}

func TestEveryProblemIsSaidWithItsLineAndNoMoreThanTwenty(t *testing.T) {
	e := ownfile.New("own\x1b[2J.yaml", ownfile.FileKind{Noun: "routine"})
	require.NoError(t, e.OrNil())
	for line := 30; line > 0; line-- {
		e.Add(line, "bad %s", ownfile.Quote("\x1b[31mword"))
	}
	err := e.OrNil()
	var bad *ownfile.FileError
	require.True(t, errors.As(err, &bad))
	assert.Equal(t, 1, bad.Problems[0].Line)
	assert.Contains(t, err.Error(), ":20: bad")
	assert.NotContains(t, err.Error(), ":21: bad")
	assert.Contains(t, err.Error(), "and 10 more")
	assert.NotContains(t, err.Error(), "\x1b")
}

func TestBoundsComeBeforeTheParser(t *testing.T) {
	kind := ownfile.FileKind{Noun: "routine", Pages: "a page of text", Begins: "begins with name:", Bytes: 4096, Lines: 10, Columns: 50, Flow: 20}
	for name, c := range map[string]struct{ text, want string }{
		"size":    {strings.Repeat("# long\n", 1000), "larger than 4 kB"},
		"lines":   {strings.Repeat("a: b\n", 20), "more than 10 lines"},
		"columns": {strings.Repeat("x", 60), "more than 50 characters"},
		"flow":    {strings.Repeat("[", 30), "brackets"},
		"utf8":    {"a: b\nc: \xff\n", ":2: not UTF-8"},
		"zero":    {"a: \x00", "zero byte"},
	} {
		e := ownfile.New("f.yaml", kind)
		_, err := ownfile.Read(strings.NewReader(c.text), e)
		require.NoError(t, err, name)
		require.ErrorContains(t, e.OrNil(), c.want, name)
	}
	e := ownfile.New("f.yaml", kind)
	data, err := ownfile.Read(strings.NewReader("\xef\xbb\xbfname: x\r\n# [[[[[[[[[[[[[[[[[[[[[[[[[[[[\r\n"), e)
	require.NoError(t, err)
	require.NoError(t, e.OrNil(), "brackets in a comment cost nothing")
	assert.NotNil(t, ownfile.Parse(e, data))
}
