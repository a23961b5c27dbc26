package screentest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/tui/layout"
)

// Golden compares the drawn screen with testdata/screens/NAME-WxH.txt at the
// root of the project. With LOOSEBOX_UPDATE=1 it writes the file instead.
func (d *Driver) Golden(name string) {
	d.t.Helper()
	GoldenView(d.t, name, d.View(), d.size)
}

// GoldenView is Golden for a frame that was drawn in a window of a size.
func GoldenView(t testing.TB, name, view string, size layout.Size) {
	t.Helper()
	lines := layout.Lines(view)
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	got := strings.Join(lines, "\n") + "\n"
	path := filepath.Join(root(t), "testdata", "screens", fmt.Sprintf("%s-%dx%d.txt", name, size.W, size.H))
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "run with LOOSEBOX_UPDATE=1 to write it")
	assert.Equal(t, strings.ReplaceAll(string(want), "\r\n", "\n"), got, path)
}

// Goldens is Golden of a screen in every size of Sizes; make opens it for each.
func Goldens(t *testing.T, name string, make func(t *testing.T, size layout.Size) *Driver) {
	t.Helper()
	for _, size := range Sizes() {
		t.Run(fmt.Sprintf("%dx%d", size.W, size.H), func(t *testing.T) { make(t, size).Golden(name) })
	}
}

// root is the folder of go.mod.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the test")
		dir = up
	}
}
