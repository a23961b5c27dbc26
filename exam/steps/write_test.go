package steps

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// TestWrittenRoutinesReadBack: what is written for people to change is taken
// back as it was, under its new name.
func TestWrittenRoutinesReadBack(t *testing.T) {
	for _, r := range Routines() {
		var b bytes.Buffer
		require.NoError(t, WriteRoutine(&b, r, Table()))
		got, err := ReadRoutine(&b, r.Name+".yaml", Table())
		require.NoError(t, err, r.Name)
		assert.Equal(t, "my-"+r.Name, got.Name)
		assert.Equal(t, r.About, got.About)
		assert.Equal(t, r.Asks, got.Asks)
		var again bytes.Buffer
		require.NoError(t, WriteRoutine(&again, got, Table()))
		twice, err := ReadRoutine(&again, "again.yaml", Table())
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
		err := WriteRoutine(&fullDisk{left}, Routines()[0], Table())
		assert.ErrorContains(t, err, "disk full", "write %d", left)
	}
}

// FuzzReadRoutine: whatever a file holds, it is either taken whole, with every
// side paired and nothing twice, or refused in clean words.
func FuzzReadRoutine(f *testing.F) {
	for _, r := range Routines() {
		var b bytes.Buffer
		require.NoError(f, WriteRoutine(&b, r, Table()))
		f.Add(b.String())
	}
	for _, s := range []string{"", "name: a\nsteps: [urine]\n", "{", "- -", "? a", "a: |\n b", "%YAML", "&a *a", "!!x y", "name: [\n", "a: {b, c}", "<<: *a"} {
		f.Add(s)
	}
	table := Table()
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ReadRoutine(strings.NewReader(text), "own.yaml", table)
		if err != nil {
			for _, l := range strings.Split(err.Error(), "\n") {
				if exam.CleanLine(l, 1000) != l {
					t.Fatalf("not clean: %q", l)
				}
			}
			return
		}
		seen := map[string]bool{}
		for _, k := range places(r) {
			s, ok := table.ByID(k.Step)
			if !ok || !s.HasSite(k.Site) || seen[fmt.Sprint(k)] {
				t.Fatalf("bad place %v", k)
			}
			seen[fmt.Sprint(k)] = true
		}
		var b bytes.Buffer
		if err := WriteRoutine(&b, r, table); err != nil {
			t.Fatal(err)
		}
		back, err := ReadRoutine(&b, "again.yaml", table)
		if err != nil || len(back.Asks) != len(r.Asks) {
			t.Fatalf("written and not read back: %v", err)
		}
	})
}
