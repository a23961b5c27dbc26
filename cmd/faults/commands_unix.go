//go:build unix && !solaris && !aix

package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// programTrials are those of the whole program.
func programTrials() []trial {
	return []trial{
		{"kill -9 in the screens", tryKillScreens},
		{"kill -9 in the plain prompts", tryKillPrompts},
		{"kill -9 in backup, restore, drill, export, rebuild, import, first start and settings", tryKillCommands},
		{"signals in backup, restore, drill, export, rebuild, import, first start and settings", trySignals},
		{"a record that may only be read", tryRescue},
		{"late, cut and wrong answers of a terminal", tryAnswers},
	}
}

// errand is one run of the program that takes a while.
type errand struct {
	name string
	args []string
	// result is the file or folder that it makes, below out; it is whole or not there.
	result string
	whole  func(p place, path string) error
	// empty says that it begins in a folder without a record, and writes one.
	empty bool
}

// Names of what is made once for the errands, in the folder of the trial: another may run beside it.
const (
	wholeBackup = "whole.tar.age"
	wholeExport = "whole.jsonl"
)

func errands(dir string) []errand {
	return []errand{
		{name: "backup", args: []string{"backup", "b.tar.age"}, result: "b.tar.age", whole: wholeCopy},
		{name: "restore", args: []string{"--data", "back", "restore", filepath.Join(dir, wholeBackup)}, result: "back", whole: wholeRecord},
		{name: "drill", args: []string{"backup", "--drill"}},
		{name: "export", args: []string{"export", "-o", "e.jsonl"}, result: "e.jsonl", whole: sameExport},
		{name: "rebuild", args: []string{"rebuild"}},
		{name: "import", args: []string{"import", filepath.Join(dir, wholeExport)}, empty: true},
		{name: "first start and settings", args: []string{"backup", "--new-key", "key"}, result: "key", whole: anything, empty: true},
	}
}

// wholeCopy restores a backup.
func wholeCopy(p place, file string) error {
	to := filepath.Join(p.temp, "restored")
	defer removeAll(to)
	if err := p.run("--data", to, "restore", file); err != nil {
		return err
	}
	return wholeRecord(p, to)
}

// wholeRecord compares a record with the yard.
func wholeRecord(p place, dir string) error {
	got, _, err := contents(dir)
	if err == nil && got != p.digest {
		err = broken("%s is not the record that was backed up", dir)
	}
	return err
}

func sameExport(p place, file string) error {
	want, err := os.ReadFile(filepath.Join(p.dir, "..", wholeExport))
	if err != nil {
		return err
	}
	got, err := os.ReadFile(file)
	if err == nil && sha256.Sum256(got) != sha256.Sum256(want) {
		err = broken("%s is there and not whole", file)
	}
	return err
}

func anything(_ place, file string) error {
	data, err := os.ReadFile(file)
	if err == nil && !bytes.Contains(data, []byte("age-encryption.org/v1")) {
		err = broken("%s is there and not whole", file)
	}
	return err
}

// breaks is what was seen of runs that were broken off. Early ones were ended before
// the program listened to signals, and so before it began anything.
type breaks struct {
	times, finished, early, strays int
}

// breakOff begins every errand so often, and ends it by chance somewhere on its way.
// Then the record is as it was, what has its final name is whole, and the next run does
// the errand and leaves nothing behind.
func breakOff(dir string, r rounds, rnd *rand.Rand, end func(*os.Process) (code int)) (b breaks, err error) {
	first, err := newPlace(filepath.Join(dir, "first"))
	if err != nil {
		return b, err
	}
	for file, args := range map[string][]string{wholeBackup: {"backup"}, wholeExport: {"export", "-o"}} {
		if err := first.run(append(args, filepath.Join(dir, file))...); err != nil {
			return b, err
		}
	}
	for _, e := range errands(dir) {
		long, err := e.time(filepath.Join(dir, "timed"))
		if err != nil {
			return b, fmt.Errorf("%s: %w", e.name, err)
		}
		for range r.runs {
			if err := e.breakOnce(filepath.Join(dir, "place"), time.Duration(rnd.Int64N(int64(long))), end, &b); err != nil {
				return b, fmt.Errorf("%s, time %d: %w", e.name, b.times+1, err)
			}
			b.times++
		}
	}
	return b, nil
}

// begin makes the place of an errand.
func (e errand) begin(dir string) (place, error) {
	removeAll(dir)
	p, err := newPlace(dir)
	if err == nil && e.empty {
		removeAll(p.data)
	}
	return p, err
}

// time is how long an errand takes that nobody disturbs.
func (e errand) time(dir string) (time.Duration, error) {
	p, err := e.begin(dir)
	if err != nil {
		return 0, err
	}
	start := time.Now() //nolint:forbidigo // this program measures
	if err := p.run(e.args...); err != nil {
		return 0, err
	}
	return time.Since(start), e.look(p)
}

// look checks what an errand left under its final name.
func (e errand) look(p place) error {
	if !e.empty {
		if err := wholeRecord(p, p.data); err != nil {
			return fmt.Errorf("the record: %w", err)
		}
	} else if _, lines, err := contents(p.data); err != nil {
		return fmt.Errorf("the new record: %w", err)
	} else if lines > 0 {
		if err := wholeRecord(p, p.data); err != nil {
			return fmt.Errorf("the new record: %w", err)
		}
	}
	if e.result == "" {
		return nil
	}
	path := filepath.Join(p.out, e.result)
	if _, err := os.Lstat(path); err != nil {
		return nil //nolint:nilerr // it is not there
	}
	return e.whole(p, path)
}

// breakOnce ends an errand after a while. The end says with which code that must show;
// -1 for a program that had no chance to do anything.
func (e errand) breakOnce(dir string, after time.Duration, end func(*os.Process) int, b *breaks) error {
	p, err := e.begin(dir)
	if err != nil {
		return err
	}
	cmd, said := p.command(e.args...)
	if err := cmd.Start(); err != nil {
		return err
	}
	time.Sleep(after)
	want := end(cmd.Process)
	err = cmd.Wait()
	var exit *exec.ExitError
	code := cmd.ProcessState.ExitCode()
	switch {
	case err != nil && !errors.As(err, &exit):
		return err
	case hasPanic(said.text):
		return broken("%s", said.text)
	case code == 0:
		b.finished++
	case code == -1 && want > 0:
		b.early++
	case code != want:
		return broken("it ended with %d and not %d: %s", code, want, said.text)
	}
	n, err := p.strays()
	if err != nil {
		return err
	}
	b.strays += n
	if n > 0 && want > 0 {
		return broken("%d unfinished files are left", n)
	}
	if err := e.look(p); err != nil {
		return err
	}
	if e.result != "" {
		if _, err := os.Lstat(filepath.Join(p.out, e.result)); err == nil {
			removeAll(filepath.Join(p.out, e.result)) // nothing that is there is written over
		}
	}
	if err := p.run(e.args...); err != nil {
		return broken("the next run: %v", err)
	}
	if err := e.look(p); err != nil {
		return fmt.Errorf("after the next run: %w", err)
	}
	if n, err = p.strays(); err == nil && n > 0 {
		err = broken("the next run leaves %d unfinished files: %s", n, strings.Join(e.args, " "))
	}
	return err
}

func tryKillCommands(dir string, r rounds) (outcome, error) {
	b, err := breakOff(dir, r, chance(r, 31), func(p *os.Process) int {
		_ = p.Kill() // it may have ended
		return -1
	})
	return outcome{times: b.times, lost: "nothing", seen: fmt.Sprintf(
		"the record as it was, what has its final name whole; %d had ended before; %d unfinished files and folders left, all removed by the next run", b.finished, b.strays)}, err
}

func trySignals(dir string, r rounds) (outcome, error) {
	rnd := chance(r, 32)
	list := []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP}
	b, err := breakOff(dir, r, rnd, func(p *os.Process) int {
		s := list[rnd.IntN(len(list))]
		_ = p.Signal(s) // it may have ended
		return 128 + int(s)
	})
	if err == nil && b.early > b.times/2 {
		err = broken("%d of %d runs did not hear the signal", b.early, b.times)
	}
	return outcome{times: b.times, lost: "nothing", seen: fmt.Sprintf(
		"code 129, 130 or 143, the record as it was, nothing unfinished left; %d had ended before, %d had not begun to listen", b.finished, b.early)}, err
}

// tryRescue reads a record that may only be read, as a user without rights.
func tryRescue(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing", seen: "listed, shown, checked, exported and backed up; nothing in its folder changed"}
	for i := range r.runs {
		if err := rescueOnce(filepath.Join(dir, fmt.Sprint(i))); err != nil {
			return o, err
		}
		o.times++
	}
	return o, nil
}

func rescueOnce(dir string) error {
	p, err := newPlace(dir)
	if err != nil {
		return err
	}
	for path := dir; path != filepath.Dir(path) && path != filepath.Clean(os.TempDir()); path = filepath.Dir(path) {
		if err := os.Chmod(path, 0o755); err != nil { //nolint:gosec // a user without rights gets this far
			return err
		}
	}
	list, err := os.ReadDir(p.data)
	if err != nil {
		return err
	}
	root := os.Getuid() == 0
	if root {
		for _, d := range []string{p.data, p.out, p.temp} {
			if err := giveAway(d); err != nil {
				return err
			}
		}
	}
	for _, f := range list {
		if err := os.Chmod(filepath.Join(p.data, f.Name()), 0o400); err != nil {
			return err
		}
	}
	if err := os.Chmod(p.data, 0o500); err != nil { //nolint:gosec // a folder is entered
		return err
	}
	defer func() { _ = os.Chmod(p.data, 0o700) }() //nolint:gosec // so that it can be removed
	for _, args := range [][]string{{"horses"}, {"visits", "Bramble"}, {"show", "last"}, {"check"}, {"export", "-o", "e.jsonl"}, {"backup", "b.tar.age"}} {
		cmd, said := p.command(args...)
		if root {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		}
		if err := cmd.Run(); err != nil || !strings.Contains(said.text, "may only be read here") {
			return broken("%v: %v: %s", args, err, said.text)
		}
	}
	after, err := os.ReadDir(p.data)
	if err != nil || len(after) != len(list) {
		return broken("the folder has other files now (%v)", err)
	}
	if err := wholeRecord(p, p.data); err != nil {
		return err
	}
	return wholeCopy(p, filepath.Join(p.out, "b.tar.age"))
}
