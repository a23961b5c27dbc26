package screentest

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"loosebox/tui/layout"
)

// View draws the program and checks that it fits the window exactly.
func (d *Driver) View() string {
	d.t.Helper()
	view := d.app.View()
	for _, b := range d.made.Keys() {
		require.Empty(d.t, b.Fault())
	}
	lines := layout.Lines(view)
	require.Len(d.t, lines, d.size.H, "height of the frame")
	for i, line := range lines { // at every key of every test: require is asked only where something is wrong
		if w := ansi.StringWidth(line); w > d.size.W {
			require.LessOrEqual(d.t, w, d.size.W, "line %d is too wide: %q", i, line)
		}
		for _, r := range ansi.Strip(line) {
			if r < 0x20 || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
				require.Failf(d.t, "a control character is drawn", "line %d holds %U", i, r)
			}
		}
	}
	return ansi.Strip(view)
}

// Squeeze checks that the body fits every smaller height and width.
func (d *Driver) Squeeze() {
	d.t.Helper()
	for _, w := range []int{d.size.W, 60, 37, 10, 1} {
		for h := range d.size.H {
			lines := layout.Lines(d.made.View(layout.Size{W: w, H: h}))
			require.LessOrEqual(d.t, len(lines), max(h, 1), "height of the body")
			if w < layout.MinWidth {
				continue // the frame says that the window is too small
			}
			for _, line := range lines {
				require.LessOrEqual(d.t, ansi.StringWidth(line), w, "width of the body: %q", line)
			}
		}
	}
}

// Lines are the drawn lines without colour.
func (d *Driver) Lines() []string { return layout.Lines(d.View()) }

// Shows reports whether the drawn screen contains a text on one line.
func (d *Driver) Shows(text string) bool { return strings.Contains(d.View(), text) }

// Reads is Shows for a text that may be broken over several lines.
func (d *Driver) Reads(text string) bool {
	return strings.Contains(strings.Join(strings.Fields(d.View()), " "), text)
}

// Row is the first drawn line that contains a text; empty for none.
func (d *Driver) Row(text string) string {
	for _, line := range d.Lines() {
		if strings.Contains(line, text) {
			return strings.TrimRight(line, " ")
		}
	}
	return ""
}
