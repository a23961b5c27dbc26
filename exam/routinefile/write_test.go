package routinefile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

// TestWrittenRoutinesReadBack: what is written for people to change is taken
// back as it was, under its new name.
func TestWrittenRoutinesReadBack(t *testing.T) {
	for _, r := range steps.Routines() {
		var b bytes.Buffer
		require.NoError(t, Write(&b, r, steps.Table()))
		got, err := Read(&b, r.Name+".yaml", steps.Table())
		require.NoError(t, err, r.Name)
		assert.Equal(t, "my-"+r.Name, got.Name)
		assert.Equal(t, r.About, got.About)
		assert.Equal(t, r.Asks, got.Asks)
		var again bytes.Buffer
		require.NoError(t, Write(&again, got, steps.Table()))
		twice, err := Read(&again, "again.yaml", steps.Table())
		require.NoError(t, err)
		assert.Equal(t, got, twice)
	}
}

type fullDisk struct{ left int }

func (d *fullDisk) Write(p []byte) (int, error) {
	if d.left--; d.left < 0 {
		return 0, errors.New("disk full")
	}
	return len(p), nil
}

func TestWriteFailureIsPassedOn(t *testing.T) {
	for left := range 2 {
		err := Write(&fullDisk{left}, steps.Routines()[0], steps.Table())
		assert.ErrorContains(t, err, "disk full", "write %d", left)
	}
}

// FuzzRead: whatever a file holds, it is either taken whole, with every
// side paired and nothing twice, or refused in clean words.
func FuzzRead(f *testing.F) {
	for _, r := range steps.Routines() {
		var b bytes.Buffer
		require.NoError(f, Write(&b, r, steps.Table()))
		f.Add(b.String())
	}
	for _, s := range []string{"", "name: a\nsteps: [urine]\n", "{", "- -", "? a", "a: |\n b", "%YAML", "&a *a", "!!x y", "name: [\n", "a: {b, c}", "<<: *a"} {
		f.Add(s)
	}
	table := steps.Table()
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Read(strings.NewReader(text), "own.yaml", table)
		if err != nil {
			for _, l := range strings.Split(err.Error(), "\n") {
				if notation.CleanLine(l, 1000) != l {
					t.Fatalf("not clean: %q", l)
				}
			}
			return
		}
		seen := map[string]bool{}
		for _, a := range r.Asks {
			for _, k := range a.Keys() {
				s, ok := table.ByID(k.Step)
				if !ok || !s.HasSite(k.Site) || seen[fmt.Sprint(k)] {
					t.Fatalf("bad place %v", k)
				}
				seen[fmt.Sprint(k)] = true
			}
		}
		var b bytes.Buffer
		if err := Write(&b, r, table); err != nil {
			t.Fatal(err)
		}
		back, err := Read(&b, "again.yaml", table)
		if err != nil || len(back.Asks) != len(r.Asks) {
			t.Fatalf("written and not read back: %v", err)
		}
	})
}
