package screentest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Heading is the name of the step that the exam screen asks: the first line at
// the right of the rule.
func (d *Driver) Heading(t testing.TB) string {
	t.Helper()
	for _, line := range d.Lines() {
		if _, right, found := strings.Cut(line, "│"); found {
			return strings.TrimSpace(right)
		}
	}
	require.Fail(t, "no exam screen is drawn")
	return ""
}

// GoTo jumps to the step with a name through the order at the left.
func (d *Driver) GoTo(t testing.TB, name string) {
	t.Helper()
	if strings.HasPrefix(d.Heading(t), name) {
		return
	}
	for n := 1; n < 80; n++ {
		d.Press("o")
		for range n {
			d.Press("down")
		}
		d.Press("enter")
		if strings.HasPrefix(d.Heading(t), name) {
			return
		}
		d.Press("o")
		for range n {
			d.Press("up")
		}
		d.Press("enter")
	}
	require.Fail(t, "no step is called "+name)
}
