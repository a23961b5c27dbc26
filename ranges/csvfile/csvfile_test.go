package csvfile_test

import (
	"errors"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges/csvfile"
)

func TestRowsAreReadAndBadLinesNamed(t *testing.T) {
	bad := csvfile.New("own\x1b[2J.csv", "%s was not taken:")
	rows, err := csvfile.Read(strings.NewReader("\ufeff# a comment\nname, size\n\"#\",quoted\nbox , 2\n,\nshort\n\"a\nb\",1\n"), []string{"name", "size"}, bad)
	require.NoError(t, err)
	assert.Equal(t, []csvfile.Line{{Number: 4, Cells: []string{"box", "2"}}}, rows)
	require.EqualError(t, bad.OrNil(), "own?[2J.csv was not taken:\n"+
		"own?[2J.csv:6: 1 columns instead of 2; text with a comma needs double quotes\n"+
		`own?[2J.csv:7: column 1 holds a character that cannot be printed ("a\nb")`)
	require.NoError(t, csvfile.New("f", "%s").OrNil())
}

// However many problems there are, the first twenty by their lines are said, and the rest is counted.
func TestTheFirstProblemsAreSaid(t *testing.T) {
	bad := csvfile.New("f.csv", "%s was not taken:")
	for line := 2000; line > 0; line-- {
		bad.AddAt(line, "col\x00umn", "bad %s", "\u202eword")
	}
	err := bad.OrNil()
	var is *csvfile.FileError
	require.ErrorAs(t, err, &is)
	assert.Len(t, is.Problems, 20)
	assert.Equal(t, 1980, is.More)
	assert.Equal(t, csvfile.Problem{Line: 1001, Column: "col?umn", What: "bad ?word"}, is.Problems[0], "the thousand that were kept")
	assert.True(t, strings.HasSuffix(err.Error(), "\nand 1980 more"))
}

func TestAReaderThatFailsIsNoProblemOfTheFile(t *testing.T) {
	bad := csvfile.New("f.csv", "%s")
	_, err := csvfile.Read(iotest.ErrReader(errors.New("disc pulled out")), []string{"a"}, bad)
	require.ErrorContains(t, err, "read f.csv: disc pulled out")
	require.NoError(t, bad.OrNil())
}
