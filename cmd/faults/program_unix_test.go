//go:build unix && !solaris && !aix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/steps"
	"loosebox/storage"
)

// The trials of the whole program detect a leftover file, a record with a line less, an export that is cut, and a run that
// ended by itself.
func TestALossOfTheProgramIsSeen(t *testing.T) {
	p, err := newPlace(t.TempDir())
	require.NoError(t, err)
	n, err := p.strays()
	require.NoError(t, err)
	assert.Zero(t, n)
	require.NoError(t, wholeRecord(p, p.data))

	require.NoError(t, os.WriteFile(filepath.Join(p.out, "loosebox-page-1.part"), nil, 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(p.temp, "loosebox-drill-1"), 0o700))
	n, err = p.strays()
	require.NoError(t, err)
	assert.Equal(t, 2, n)

	require.NoError(t, p.run("export", "-o", "../whole.jsonl"))
	data, err := os.ReadFile(filepath.Join(p.dir, wholeExport))
	require.NoError(t, err)
	cut := filepath.Join(p.out, "e.jsonl")
	require.NoError(t, os.WriteFile(cut, data[:len(data)-9], 0o600))
	deeper := place{p.built, filepath.Join(p.dir, "place"), p.data, p.out, p.temp}
	require.ErrorIs(t, sameExport(deeper, cut), errBroken)

	r, err := storage.Open(p.data, storage.Options{})
	require.NoError(t, err)
	require.NoError(t, (&actor{r: r, rnd: chance(few(), 1), out: os.Stderr, at: noon()}).visit())
	require.NoError(t, r.Close())
	require.ErrorIs(t, wholeRecord(p, p.data), errBroken)

	e := errand{args: []string{"gallop"}}
	require.ErrorContains(t, e.breakOnce(filepath.Join(t.TempDir(), "place"), 5*time.Second, func(*os.Process) int { return -1 }, &breaks{}), "it ended with 2 and not -1")
}

// A walk detects a frame that is too wide, and a record that lost a line.
func TestAWalkSeesWhatIsWrong(t *testing.T) {
	r, err := storage.Open(t.TempDir(), storage.Options{})
	require.NoError(t, err)
	w := &walker{rnd: chance(few(), 2), record: r, now: noon(), steps: steps.Table(), screens: map[string]bool{}}
	w.stored = 1
	require.ErrorIs(t, w.kept(), errBroken)
	w.w, w.h = 80, 2
	for _, f := range []frame{frame(strings.Repeat("x", 81)), "1\n2\n3"} {
		w.model = f
		require.ErrorIs(t, w.look("a key"), errBroken)
	}
	w.model = nil // whatever comes now, no record is there to start with
	require.NoError(t, r.Close())
	require.Error(t, w.press(0))
}

// frame is a model that draws the same always.
type frame string

func (f frame) Init() tea.Cmd                       { return nil }
func (f frame) Update(tea.Msg) (tea.Model, tea.Cmd) { return f, nil }
func (f frame) View() string                        { return string(f) }
