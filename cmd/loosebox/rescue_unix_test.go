//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// nobody is a user without rights: root may write everywhere.
const nobody = 65534

// withoutRights runs the built program as somebody who owns what is in dir, and is not root.
func withoutRights(t *testing.T, dir string) func(env []string, args ...string) (out, errOut string, code int) {
	t.Helper()
	file, err := program()
	require.NoError(t, err)
	root := os.Getuid() == 0
	if root {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		file = filepath.Join(dir, "program")
		require.NoError(t, os.Chmod(filepath.Dir(dir), 0o755)) //nolint:gosec // so that somebody else gets this far
		require.NoError(t, os.WriteFile(file, data, 0o755))    //nolint:gosec // it is the program
		require.NoError(t, filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
			require.NoError(t, err)
			return os.Lchown(path, nobody, nobody)
		}))
	}
	return func(env []string, args ...string) (string, string, int) {
		var c *exec.Cmd
		var o, e strings.Builder
		begin := func() error {
			c = exec.Command(file, args...)
			c.Env, c.Dir, c.Stdout, c.Stderr = env, dir, &o, &e
			if root {
				c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
			}
			return c.Start()
		}
		err := begin()
		for errors.Is(err, syscall.ETXTBSY) { // another test that began a program while this one was written holds its file until that runs
			time.Sleep(10 * time.Millisecond)
			err = begin()
		}
		require.NoError(t, err)
		var exit *exec.ExitError
		if err := c.Wait(); !errors.As(err, &exit) {
			require.NoError(t, err)
		}
		return o.String(), e.String(), c.ProcessState.ExitCode()
	}
}

// A record that may only be read is listed, shown, checked, exported and backed up.
// Nothing in its folder changes, and what would write says what to do.
func TestARecordThatMayOnlyBeRead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data, out := filepath.Join(dir, "yard"), filepath.Join(dir, "out")
	_, errOut, code := command(t, data, "demo", "--keep", data)
	require.Zero(t, code, errOut)
	require.NoError(t, os.Mkdir(out, 0o700))
	run := withoutRights(t, dir)
	env := append(termtest.Env(out, data), testPhrase, "TMPDIR="+out)

	list, err := os.ReadDir(data)
	require.NoError(t, err)
	before := map[string]string{}
	for _, f := range list {
		name := filepath.Join(data, f.Name())
		bytes, err := os.ReadFile(name)
		require.NoError(t, err)
		before[name] = string(bytes)
		require.NoError(t, os.Chmod(name, 0o400))
	}
	require.NoError(t, os.Chmod(data, 0o500))    //nolint:gosec // a folder is entered
	defer func() { _ = os.Chmod(data, 0o700) }() //nolint:gosec // so that it can be removed

	copied := filepath.Join(out, "b.tar.age")
	for _, args := range [][]string{
		{},
		{"horses"},
		{"visits", "Bramble"},
		{"show", "last"},
		{"show", "Bramble@last", "--as", "json"},
		{"compare", "Bramble"},
		{"handoff", "last"},
		{"due", "--all"},
		{"after", "last"},
		{"round"},
		{"rehearsals"},
		{"check"},
		{"export", "-o", filepath.Join(out, "all.jsonl")},
		{"backup", copied},
		{"backup", "--drill"},
	} {
		said, errOut, code := run(env, args...)
		assert.Zero(t, code, "%v: %s", args, errOut)
		assert.NotEmpty(t, said, args)
		assert.Contains(t, errOut, "may only be read here", args)
	}
	for _, args := range [][]string{{"exam", "Bramble", "--plain"}, {"rebuild"}, {"backup", "--new-key", filepath.Join(out, "key")}} {
		_, errOut, code := run(env, args...)
		assert.Equal(t, exitFailed, code, "%v: %s", args, errOut)
		assert.Contains(t, errOut, "nothing was changed", args)
		assert.Contains(t, errOut, "only", args)
	}
	for name, bytes := range before {
		now, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, bytes, string(now), name)
	}
	after, err := os.ReadDir(data)
	require.NoError(t, err)
	assert.Len(t, after, len(list))

	back := filepath.Join(out, "back")
	_, errOut, code = run(env, "--data", back, "restore", copied)
	require.Zero(t, code, errOut)
	said, errOut, code := run(env, "--data", back, "check")
	assert.Zero(t, code, errOut)
	assert.Contains(t, said, "every line is as it was written")
}

// A folder of other things gets a record only where somebody says so.
func TestAFolderOfOtherThingsIsAskedAbout(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(data, "letter.txt"), []byte("mine"), 0o600))
	require.NoError(t, os.Chmod(data, 0o755)) //nolint:gosec // somebody's folder
	alone := func() {
		list, err := os.ReadDir(data)
		require.NoError(t, err)
		require.Len(t, list, 1)
	}
	_, errOut, code := command(t, data, "exam", "Wren", "--plain")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "letter.txt")
	alone()

	h := sit(t, data)
	h.see("y/n:")
	h.press("n", "enter")
	exit, err := h.term.Wait(patience)
	require.NoError(t, err)
	assert.Equal(t, exitFailed, exit)
	alone()

	h = sit(t, data)
	h.see("y/n:")
	h.press("y", "enter")
	h.see("new horse")
	h.leave()
	assert.FileExists(t, filepath.Join(data, "record.db"))
	info, err := os.Stat(data)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o755), info.Mode().Perm())
	left, err := os.ReadFile(filepath.Join(data, "letter.txt"))
	require.NoError(t, err)
	assert.Equal(t, "mine", string(left))
}
