package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestATreeIsCounted(t *testing.T) {
	c, err := count(tree{
		"stall/a.go":      []byte("// Package stall holds straw.\n// It says more.\npackage stall\n\nfunc short() {}\n\nfunc long() {\n\tshort()\n}\n"),
		"stall/b.go":      []byte("package stall\n"),
		"stall/a_test.go": []byte("package stall\n\nfunc tested() {}\n"),
		"yard/c.go":       []byte("package yard\n" + strings.Repeat("\n", longFile)),
	})
	require.NoError(t, err)
	assert.Equal(t, 9+1+1+longFile, c.lines)
	assert.Equal(t, 3, c.testLines)
	assert.Equal(t, 3, c.files)
	assert.Equal(t, 9, c.median)
	assert.Equal(t, sized{"yard/c.go", 1 + longFile}, c.longest)
	assert.Equal(t, 1, c.long)
	assert.Equal(t, sized{"long in stall/a.go", 3}, c.longestFunction)
	assert.Equal(t, 2, c.shortFunctions)
	assert.Equal(t, []pack{{"stall", "Package stall holds straw.", 2, 10}, {"yard", "", 1, 1 + longFile}}, c.packages)
	assert.Equal(t, 1, c.silent())

	_, err = count(tree{"a.go": []byte("no Go")})
	require.ErrorContains(t, err, "a.go")
}
