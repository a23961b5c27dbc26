package screentest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/tui/layout"
)

// Picture compares the drawn screen in the colours of its theme with testdata/pictures/NAME.svg. With LOOSEBOX_UPDATE=1 it
// writes the file; with LOOSEBOX_PICTURES it draws it into that folder instead, in every size, to be looked at.
func (d *Driver) Picture(name string) {
	d.t.Helper()
	dir := os.Getenv("LOOSEBOX_PICTURES")
	if dir == "" {
		comparePicture(d.t, name, svg(layout.Lines(d.Coloured()), d.size, string(d.deps.Theme.Name)))
		return
	}
	for _, size := range append(Sizes(), d.size) {
		d.Resize(size)
		file := fmt.Sprintf("%s-%s-%dx%d.svg", name, d.deps.Theme.Name, size.W, size.H)
		drawn := svg(layout.Lines(d.Coloured()), size, string(d.deps.Theme.Name))
		require.NoError(d.t, os.WriteFile(filepath.Join(dir, file), []byte(drawn), 0o644))
	}
}

func comparePicture(t testing.TB, name, got string) {
	t.Helper()
	path := filepath.Join(root(t), "testdata", "pictures", name+".svg")
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "run with LOOSEBOX_UPDATE=1 to draw it")
	assert.Equal(t, strings.ReplaceAll(string(want), "\r\n", "\n"), got, path)
}

// Coloured is the drawn frame as a terminal of sixteen colours gets it.
func (d *Driver) Coloured() string {
	before := lipgloss.ColorProfile()
	lipgloss.SetColorProfile(termenv.ANSI)
	defer lipgloss.SetColorProfile(before)
	return d.app.View()
}
