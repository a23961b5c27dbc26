package source_test

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/explain"
	"loosebox/tui/layout"
	"loosebox/tui/screen/source"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

func many() []explain.Section {
	part := explain.Section{Head: "Range"}
	for range 30 {
		part.Lines = append(part.Lines, "a line that is long enough to be broken where the window is the smallest one")
	}
	return append([]explain.Section{part}, explain.Section{Head: "Last", Lines: []string{"the end"}})
}

func press(p *source.Panel, names ...string) bool {
	used := false
	for _, n := range names {
		used = p.Press(screentest.Press1(n, screentest.Now()))
	}
	return used
}

// A closed panel takes no key; an open one takes every key, scrolls, and closes by s, enter and esc.
func TestPanelOpensScrollsAndCloses(t *testing.T) {
	var p source.Panel
	assert.False(t, press(&p, "s"))
	for _, shut := range []string{"s", "enter"} {
		p.Show("Heart rate", many())
		require.True(t, p.Open())
		assert.True(t, press(&p, "space", "u", "7"), "nothing else happens under it")
		assert.True(t, p.Open())
		press(&p, shut)
		assert.False(t, p.Open())
	}
	p.Show("Heart rate", many())
	assert.True(t, p.Close())
	assert.False(t, p.Close())
}

// Every line can be reached at every size, and none is too wide or too many.
func TestEveryLineCanBeReached(t *testing.T) {
	th := theme.New(theme.Plain, false)
	for _, size := range []layout.Size{{W: 60, H: 14}, {W: 80, H: 18}, {W: 120, H: 34}, {W: 20, H: 3}, {W: 60, H: 1}} {
		var p source.Panel
		p.Show("Heart rate, a very long title indeed that does not fit into the smallest of windows at all", many())
		seen := ""
		for range 400 {
			view := p.Draw(th, size)
			lines := strings.Split(view, "\n")
			require.LessOrEqual(t, len(lines), size.H)
			for _, l := range lines {
				require.LessOrEqual(t, ansi.StringWidth(l), size.W)
			}
			seen += view
			press(&p, "down")
		}
		if size.H > 1 {
			assert.Contains(t, seen, "the end", size)
		}
		press(&p, "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "up")
	}
}
