//go:build unix && !solaris && !aix

package main

import (
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

// programTrials are the trials that run the whole program.
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

// breaks counts the runs that were broken off and the temporary files that they left. Early runs were ended before the
// program handled signals, and so before it began anything.
type breaks struct {
	times, finished, early, strays int
}

// breakOff runs every errand repeatedly and ends it at a random moment. The record must then be unchanged, a file with its
// final name complete, and the next run must do the errand and leave no temporary files.
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

// breakOnce starts an errand and ends it after a time. End ends the process and returns the exit code that it must have; -1
// for one that was killed.
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
			removeAll(filepath.Join(p.out, e.result)) // the program does not overwrite
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
