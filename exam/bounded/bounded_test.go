package bounded_test

import (
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/bounded"
)

// endless is a stream without an end.
type endless struct{ text string }

func (e endless) Read(p []byte) (int, error) { return copy(p, e.text), nil }

func TestEverythingHasAnEnd(t *testing.T) {
	for name, c := range map[string]struct {
		in   io.Reader
		l    bounded.Limits
		want string
	}{
		"bytes":             {endless{"a\n"}, bounded.Limits{Bytes: 1 << 20}, "a file of more than 1 MB; so much is not read"},
		"one line":          {endless{"a"}, bounded.Limits{Line: 64 << 10}, "a line of more than 64 kB"},
		"a quote left open": {io.MultiReader(strings.NewReader(`a,"b`), endless{"c\n"}), bounded.Limits{Line: 2000, CSV: true}, "a line of more than 2000 bytes"},
		"byte by byte":      {iotest.OneByteReader(endless{"abc"}), bounded.Limits{Line: 5}, "a line of more than 5 bytes"},
	} {
		_, err := io.Copy(io.Discard, bounded.Reader(c.in, c.l))
		require.ErrorContains(t, err, c.want, name)
	}
}

func TestWhatIsWithinTheLimitsIsReadWhole(t *testing.T) {
	text := "a,\"two\nlines, \"\"quoted\"\"\",c\nd,e,f\n"
	in := bounded.Reader(iotest.HalfReader(strings.NewReader(text)), bounded.Limits{Bytes: int64(len(text)), Line: 32, CSV: true})
	all, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	assert.Len(t, all, 2)
	assert.Equal(t, "two\nlines, \"quoted\"", all[0][1])
}
