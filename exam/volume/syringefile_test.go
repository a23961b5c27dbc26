package volume_test

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/exam/volume"
)

// A table that does not end is refused with the limit that it passed.
func TestATableOfSyringesHasAnEnd(t *testing.T) {
	head := "ml,mark_ml,name\n"
	for want, in := range map[string]io.Reader{
		"more than 200 syringes":         strings.NewReader(head + strings.Repeat("10,0.5,x\n", 300)),
		"a line of more than 1000 bytes": strings.NewReader(head + "10,0.5," + strings.Repeat("x", 1<<20) + "\n"),
		"a file of more than 1 MB":       strings.NewReader(head + strings.Repeat("# a comment\n", 1<<17)),
	} {
		_, err := volume.ReadSyringes(in, "syringes.csv")
		require.ErrorContains(t, err, want)
	}
	_, err := volume.ReadSyringes(strings.NewReader(head+"10,0.5,\"x\n"+strings.Repeat("y\n", 1<<18)), "syringes.csv")
	require.ErrorContains(t, err, "a line of more than 1000 bytes", "a quote that nobody closed")
}
