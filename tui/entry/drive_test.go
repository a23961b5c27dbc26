package entry

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// noon is the start of every test's clock.
func noon() time.Time { return time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC) }

// clock is a clock that a test sets.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func options(c *clock) Options {
	return Options{
		Theme: theme.New(theme.Plain, false), Now: c.now,
		Bell: func() tea.Msg { return rangMsg{} },
	}
}

type rangMsg struct{}

// unixSpace and windowsSpace are the space bar as the two systems send it.
func unixSpace(at time.Time) keys.Press {
	return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}, At: at}
}

func windowsSpace(at time.Time) keys.Press {
	return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{' '}}, At: at}
}

func spaces() map[string]func(time.Time) keys.Press {
	return map[string]func(time.Time) keys.Press{"unix": unixSpace, "windows": windowsSpace}
}

// named is a press by its name, at noon.
func named(name string) keys.Press {
	special := map[string]tea.KeyType{
		"enter": tea.KeyEnter, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
		"backspace": tea.KeyBackspace, "tab": tea.KeyTab, "home": tea.KeyHome, "end": tea.KeyEnd,
	}
	if k, ok := special[name]; ok {
		return keys.Press{KeyMsg: tea.KeyMsg{Type: k}, At: noon()}
	}
	if name == "space" {
		return unixSpace(noon())
	}
	return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}, At: noon()}
}

func paste(text string) keys.Press {
	return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}, At: noon()}
}

// send presses keys by name and returns what the last one did.
func send(f Widget, names ...string) KeyResult {
	r := Ignored
	for _, n := range names {
		r, _ = f.Press(named(n))
	}
	return r
}

// letters presses every character of a text.
func letters(f Widget, text string) {
	for _, r := range text {
		f.Press(named(string(r)))
	}
}

func value(t *testing.T, f Widget) exam.Value {
	t.Helper()
	v, err := f.Value()
	require.NoError(t, err)
	return v
}

func screen(f Widget, w, h int) string { return strings.Join(f.View(layout.Size{W: w, H: h}), "\n") }

// flat is what a field says, without the breaks between its lines.
func flat(f Widget) string { return strings.Join(strings.Fields(screen(f, 86, 16)), " ") }

// golden compares a field at the three body widths with its stored pictures and
// asserts that no line is too wide and no block too high.
func golden(t *testing.T, name string, f Widget) {
	t.Helper()
	for _, size := range []layout.Size{{W: 34, H: 11}, {W: 52, H: 14}, {W: 86, H: 28}} {
		lines := f.View(size)
		assert.LessOrEqual(t, len(lines), size.H, "%s at %d: height", name, size.W)
		for _, l := range lines {
			assert.LessOrEqual(t, ansi.StringWidth(l), size.W, "%s at %d: %q", name, size.W, l)
			assert.Equal(t, l, ansi.Strip(l), "no colour in the plain theme")
			assert.NotContains(t, l, "\n")
		}
		path := filepath.Join("..", "..", "testdata", "screens", "entry-"+name+"-"+strconv.Itoa(size.W)+".txt")
		got := trimmed(lines)
		if os.Getenv("LOOSEBOX_UPDATE") != "" {
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
			continue
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, strings.ReplaceAll(string(want), "\r\n", "\n"), got, "%s at %d", name, size.W)
	}
	// The floor of the room, and rooms that hold nothing: no panic, nothing too wide.
	for _, size := range []layout.Size{{}, {W: 1, H: 1}, {W: 7, H: 2}, {W: 34, H: 3}, {W: 20, H: 5}} {
		lines := f.View(size)
		assert.LessOrEqual(t, len(lines), size.H)
		for _, l := range lines {
			assert.LessOrEqual(t, ansi.StringWidth(l), size.W)
		}
	}
}

func trimmed(lines []string) string {
	out := ""
	for _, l := range lines {
		out += strings.TrimRight(l, " ") + "\n"
	}
	return out
}
