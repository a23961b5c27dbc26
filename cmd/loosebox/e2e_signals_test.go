//go:build unix

package main

import (
	"errors"
	"fmt"
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
	"loosebox/storage"
)

const testPhrase = "LOOSEBOX_PASSPHRASE=four dry oat bags"

// interruptRun runs a command, sends a signal as soon as ready says so, and returns
// the exit code. A command that was faster than the signal, or that had given its file its
// name when the signal came, is run again.
func interruptRun(t *testing.T, s os.Signal, env []string, ready func() bool, made string, undo func(), args ...string) (code int, errOut string) {
	t.Helper()
	file, err := program()
	require.NoError(t, err)
	for range 100 { // a quick machine needs several tries to be met in the middle
		c := exec.Command(file, args...)
		c.Env = env
		var said strings.Builder
		c.Stdout, c.Stderr = &said, &said
		require.NoError(t, c.Start())
		ended := make(chan struct{})
		go func() {
			_ = c.Wait() // its code is read from the state
			close(ended)
		}()
		late := time.After(4 * patience)
	waiting:
		for {
			select {
			case <-ended:
				break waiting
			case <-late:
				require.Fail(t, "never ready")
			default:
				if ready() {
					_ = c.Process.Signal(s) // it may have ended
					break waiting
				}
				<-time.After(time.Millisecond) // the other tests want to run too
			}
		}
		<-ended
		if code := c.ProcessState.ExitCode(); code != 0 && !exists(made) {
			return code, said.String()
		}
		undo()
	}
	require.Fail(t, "the command was always faster than the signal")
	return 0, ""
}

// exists says that a file or folder is there.
func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

func matches(pattern string) func() bool {
	return func() bool {
		list, err := filepath.Glob(pattern)
		return err == nil && len(list) > 0
	}
}

// A restore, a backup, a drill and an export that are interrupted end with the
// signal's code, and leave no decrypted file, no key and no half of a file.
func TestASignalLeavesNothingBehind(t *testing.T) {
	t.Parallel()
	data := yard(t)
	dir, temp := t.TempDir(), t.TempDir()
	env := append(termtest.Env(t.TempDir(), data), testPhrase, "TMPDIR="+temp)
	file := filepath.Join(dir, "b.tar.age")
	saved := exec.Command(must(program()), "backup", file)
	saved.Env = env
	out, err := saved.CombinedOutput()
	require.NoError(t, err, string(out))
	codes := map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129}
	for s, want := range codes {
		to := t.TempDir()
		place, copied, exported := filepath.Join(to, "place"), filepath.Join(to, "c.age"), filepath.Join(to, "e")
		code, said := interruptRun(t, s, env, matches(place+".restoring-*/record.db"), place, func() { _ = os.RemoveAll(place) }, "--data", place, "restore", file)
		assert.Equal(t, want, code, said)
		assert.Contains(t, said, "interrupted")
		assertEmpty(t, to)

		code, said = interruptRun(t, s, env, matches(temp+"/loosebox-drill-*/restored.restoring-*/record.db"), "", func() {}, "backup", "--drill")
		assert.Equal(t, want, code, said)
		assertEmpty(t, temp)

		code, said = interruptRun(t, s, env, matches(to+"/loosebox-*.part"), copied, func() { _ = os.Remove(copied) }, "backup", copied)
		assert.Equal(t, want, code, said)
		assertEmpty(t, to)

		code, said = interruptRun(t, s, env, matches(to+"/loosebox-*.part"), exported, func() { _ = os.Remove(exported) }, "export", "-o", exported)
		assert.Equal(t, want, code, said)
		assertEmpty(t, to)
	}
	sound(t, data)
}

func must(file string, err error) string {
	if err != nil {
		panic(err)
	}
	return file
}

func assertEmpty(t *testing.T, dir string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, list)
}

// kill -9 leaves what was decrypted; the next run removes it, a restore or any that names the folder.
func TestTheNextRunRemovesWhatKillLeft(t *testing.T) {
	t.Parallel()
	data := yard(t)
	dir := t.TempDir()
	env := append(termtest.Env(t.TempDir(), data), testPhrase)
	file, place := filepath.Join(dir, "b.tar.age"), filepath.Join(dir, "place")
	for _, args := range [][]string{{"backup", file}} {
		c := exec.Command(must(program()), args...)
		c.Env = env
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	kill := func() {
		t.Helper()
		code, _ := interruptRun(t, syscall.SIGKILL, env, matches(place+".restoring-*/record.db"), place, func() { _ = os.RemoveAll(place) }, "--data", place, "restore", file)
		assert.Equal(t, -1, code)
		assert.True(t, matches(place+".restoring-*/record.db")(), "it was killed in the middle")
	}
	kill()
	c := exec.Command(must(program()), "--data", place, "check")
	c.Env = env
	out, err := c.CombinedOutput()
	require.Error(t, err, "nothing was restored: %s", out)
	assert.False(t, matches(place+".restoring-*")(), "check removes it")
	kill()
	c = exec.Command(must(program()), "--data", place, "restore", file)
	c.Env = env
	out, err = c.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.False(t, matches(place+".restoring-*")())
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, list, 2)
}

// A passphrase is asked for without echo. Whatever ends the question, what is typed
// next is seen again.
func TestASignalAtAPassphraseGivesTheTerminalBack(t *testing.T) {
	t.Parallel()
	data := yard(t)
	for s, want := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		h := sit(t, data, "backup", filepath.Join(t.TempDir(), "b.age"))
		h.see("passphrase for the backup:")
		h.settled(func() bool { return !h.cooked() })
		require.NoError(t, h.term.Signal(s))
		code, err := h.term.Wait(patience)
		require.NoError(t, err)
		assert.Equal(t, want, code)
		assert.True(t, h.term.CookedAtEnd())
	}
	sound(t, data)
}

// The screens and the plain prompts end with the signal's code, give the terminal
// back and let go of the record, with every accepted answer in it.
func TestASignalEndsTheScreensAndThePrompts(t *testing.T) {
	t.Parallel()
	data := yard(t)
	for s, want := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		for _, args := range [][]string{{}, {"exam", "Wren", "--plain"}} {
			h := sit(t, data, args...)
			if len(args) == 0 {
				h.see("go on with Wren's exam")
			} else {
				h.seeLine(`^\d+ of \d+\. `)
			}
			require.NoError(t, h.term.Signal(s))
			code, err := h.term.Wait(patience)
			require.NoError(t, err)
			assert.Equal(t, want, code, args)
			assert.True(t, h.term.CookedAtEnd(), args)
		}
	}
	sound(t, data)
}

// A window that was closed ends the program with the code of a hang-up.
func TestAVanishedTerminalEndsTheProgram(t *testing.T) {
	t.Parallel()
	data := yard(t)
	h := sit(t, data)
	h.see("go on with Wren's exam")
	require.NoError(t, h.term.HangUp())
	code, err := h.term.Wait(patience)
	require.NoError(t, err)
	assert.Equal(t, 129, code)
	sound(t, data)
}

// Stopped and brought back, the screen is drawn again and the keys work.
func TestTheScreenIsDrawnAgainAfterAStop(t *testing.T) {
	t.Parallel()
	h := sit(t, yard(t))
	for _, stop := range []os.Signal{syscall.SIGTSTP, syscall.SIGSTOP} {
		h.see("go on with Wren's exam")
		require.NoError(t, h.term.Signal(stop))
		h.settled(h.term.Stopped) // a shell is told so before it takes the terminal
		if stop == syscall.SIGTSTP {
			assert.True(t, h.cooked(), "the terminal was set back before the stop")
		}
		require.NoError(t, h.term.Cook())
		_, err := h.term.Scribble("\x1b[2J\x1b[1;1Hshell$ ")
		require.NoError(t, err)
		h.unsee("go on with Wren's exam")
		require.NoError(t, h.term.Signal(syscall.SIGCONT))
		h.see("go on with Wren's exam")
		h.unsee("shell$")
		h.settled(func() bool { return !h.cooked() })
		h.press("g")
		h.see("Settings")
		h.press("esc")
	}
	h.leave()
}

// cooked says that the terminal is as a shell leaves it.
func (h *hand) cooked() bool {
	cooked, err := h.term.Cooked()
	return err == nil && cooked
}

// settled waits until something of the terminal itself is so; nothing tells when.
func (h *hand) settled(good func() bool) {
	h.t.Helper()
	require.Eventually(h.t, good, patience, 5*time.Millisecond)
}

// An import that is interrupted leaves whole visits of its file in a record that is sound,
// and the next run brings the rest; a rebuild leaves the record as it was.
func TestASignalInAnImportAndInARebuild(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table, mapping, data := filepath.Join(dir, "table.csv"), filepath.Join(dir, "map.yaml"), filepath.Join(dir, "record")
	var rows strings.Builder
	rows.WriteString("horse,day,pulse\n")
	for i := range 6000 {
		fmt.Fprintf(&rows, "Horse %d,2026-%02d-%02d,%d\n", i/10, 1+i%10, 1+i%7, 30+i%12)
	}
	require.NoError(t, os.WriteFile(table, []byte(rows.String()), 0o600))
	require.NoError(t, os.WriteFile(mapping, []byte("horse: {kind: horse}\nvisit: {by: Ann, routine: tpr-recheck}\ncolumns:\n  horse: horse name\n  day: {is: date}\n  pulse: heart.rate\n"), 0o600))
	env := termtest.Env(t.TempDir(), data)
	held := func() bool { // the program holds the record; asked without being in its way for long
		f, err := os.Open(filepath.Join(data, storage.FileName))
		if err != nil {
			return false
		}
		defer func() { _ = f.Close() }()
		return errors.Is(syscall.Flock(int(f.Fd()), syscall.LOCK_SH|syscall.LOCK_NB), syscall.EWOULDBLOCK)
	}
	checked := func(want string) {
		t.Helper()
		out, errOut, code := command(t, data, "check")
		assert.Zero(t, code, errOut)
		assert.Contains(t, out, want)
		assert.Contains(t, out, "every line is as it was written")
		assert.Empty(t, strays(t, data))
	}
	codes := map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129}
	for s, want := range codes {
		code, said := interruptRun(t, s, env, held, "", func() { _ = os.RemoveAll(data) }, "import", table, "--map", mapping)
		assert.Equal(t, want, code, said)
		assert.Contains(t, said, "interrupted")
		checked(" visits, ")
		require.NoError(t, os.RemoveAll(data))
	}
	_, errOut, code := command(t, data, "import", table, "--map", mapping)
	require.Zero(t, code, errOut)
	lines := filepath.Join(dir, "all.jsonl")
	_, errOut, code = command(t, data, "export", "-o", lines)
	require.Zero(t, code, errOut)
	for s, want := range codes {
		code, said := interruptRun(t, s, env, held, "", func() {}, "rebuild")
		assert.Equal(t, want, code, said)
		checked("6000 visits, ")
	}
	require.NoError(t, os.RemoveAll(data))
	for s, want := range codes {
		code, said := interruptRun(t, s, env, held, "", func() { _ = os.RemoveAll(data) }, "import", lines)
		assert.Equal(t, want, code, said)
		checked(" visits, ")
	}
	_, errOut, code = command(t, data, "import", lines)
	require.Zero(t, code, errOut)
	checked("6000 visits, ")
}

// strays are the files of a data folder that are no part of a record.
func strays(t *testing.T, data string) (out []string) {
	t.Helper()
	list, err := os.ReadDir(data)
	require.NoError(t, err)
	for _, f := range list {
		switch f.Name() {
		case "record.db", "machine.key", "machine.count":
		default:
			out = append(out, f.Name())
		}
	}
	return out
}
