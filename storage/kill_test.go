package storage_test

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// Variables that turn the test binary into a child of a test.
const (
	childJob = "LOOSEBOX_TEST_JOB"
	childDir = "LOOSEBOX_TEST_DIR"
)

func TestMain(m *testing.M) {
	switch job := os.Getenv(childJob); job {
	case "":
		if os.Getenv("LOOSEBOX_LONG") == "" {
			_ = flag.Set("rapid.checks", "25") // at a desk; .ci/run makes a hundred. What the command line says is read later, and stands
		}
		os.Exit(m.Run())
	case "append":
		exit(appendForEver(os.Getenv(childDir), os.Stdout))
	case "open":
		r, err := storage.Open(os.Getenv(childDir), storage.Options{})
		if err == nil {
			err = r.Close()
		}
		exit(err)
	default:
		exit(fmt.Errorf("no job %q", job))
	}
}

func exit(err error) {
	if err != nil {
		_, _ = fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// appendForEver opens visits, answers steps, closes visits, and writes a line
// for every entry that was accepted.
func appendForEver(dir string, out io.Writer) error {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	horses, err := r.Horses()
	if err != nil {
		return err
	}
	for {
		v, err := r.Begin(opened(horses[0].Horse.ID, day()))
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintln(out, v.ID, 1, v.Last); err != nil {
			return err
		}
		for _, e := range append(answers(v.ID, 20, day()), closing(v.ID, day())) {
			back, err := r.Append(e)
			if err != nil {
				return err
			}
			if _, err := fmt.Fprintln(out, v.ID, back.Seq, back.Hash); err != nil {
				return err
			}
		}
	}
}

// child starts this test binary again with a job.
func child(t *testing.T, job, dir string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), childJob+"="+job, childDir+"="+dir)
	cmd.Stderr = os.Stderr
	return cmd
}

func TestAKilledProgramLosesNoAcceptedEntry(t *testing.T) {
	dir := t.TempDir()
	r := openRecord(t, dir)
	saveHorse(t, r, "Bracken")
	require.NoError(t, r.Close())
	rnd := rand.New(rand.NewPCG(2026, 5))
	accepted := map[exam.VisitID][]exam.Hash{}
	n := 0
	for range rounds(t, "LOOSEBOX_KILLS", 30) {
		n += killOnce(t, dir, 1+rnd.IntN(60), accepted)
		r, err := storage.Open(dir, storage.Options{})
		require.NoError(t, err, "a record is never broken by a kill")
		for id, hashes := range accepted {
			entries, err := r.Entries(id)
			require.NoError(t, err)
			require.GreaterOrEqual(t, len(entries), len(hashes), "an accepted entry is gone")
			for i, hash := range hashes {
				require.Equal(t, hash, entries[i].Hash)
			}
		}
		require.NoError(t, r.Close())
	}
	t.Logf("%d entries accepted", n)
	again := openRecord(t, dir) // checked when the test ends
	open, err := again.Unfinished()
	require.NoError(t, err)
	assert.NotEmpty(t, open, "the visit that was cut off is offered again")
}

// killOnce kills a child as soon as it has acknowledged some entries, while it
// is at work on the next one, and returns how many it acknowledged in all.
func killOnce(t *testing.T, dir string, after int, accepted map[exam.VisitID][]exam.Hash) int {
	t.Helper()
	cmd := child(t, "append", dir)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewScanner(out)
	n := 0
	for lines.Scan() {
		var visit exam.VisitID
		var seq int
		var hash exam.Hash
		if _, err := fmt.Sscan(lines.Text(), &visit, &seq, &hash); err != nil {
			break // cut off in the middle of a line
		}
		require.Equal(t, len(accepted[visit])+1, seq)
		accepted[visit] = append(accepted[visit], hash)
		if n++; n == after {
			require.NoError(t, cmd.Process.Kill())
		}
	}
	require.Error(t, cmd.Wait(), "it was killed")
	require.GreaterOrEqual(t, n, after)
	return n
}

func TestASecondRunIsToldThatTheRecordIsInUse(t *testing.T) {
	r, dir := newRecord(t)
	_, err := storage.Open(dir, storage.Options{Wait: 1})
	require.ErrorIs(t, err, exam.ErrInUse)
	assert.Contains(t, err.Error(), "close the other one")
	cmd := child(t, "open", dir)
	said := new(lastLine)
	cmd.Stderr = said
	require.Error(t, cmd.Run())
	assert.Contains(t, said.text, "in use by another run")
	saveHorse(t, r, "Bracken") // the first one goes on
}

// lastLine keeps what a child says.
type lastLine struct{ text string }

func (l *lastLine) Write(p []byte) (int, error) {
	l.text += string(p)
	return len(p), nil
}

func TestTwoRunsThatMakeTheRecordTogetherKeepOne(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "data")
	var runs []*exec.Cmd
	for range 4 {
		cmd := child(t, "open", dir)
		require.NoError(t, cmd.Start())
		runs = append(runs, cmd)
	}
	for _, cmd := range runs {
		require.NoError(t, cmd.Wait(), "each gets the record in its turn")
	}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(dir, storage.KeyName), filepath.Join(dir, storage.FileName)}, names, "nothing is left lying about")
	openRecord(t, dir)
}
