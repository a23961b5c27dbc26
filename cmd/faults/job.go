package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"

	"loosebox/exam"
	"loosebox/storage"
)

// Variables that turn this program into the child of a trial.
const (
	jobVariable   = "LOOSEBOX_FAULT_JOB"
	folderInJob   = "LOOSEBOX_FAULT_DIR"
	seedInJob     = "LOOSEBOX_FAULT_SEED"
	limitInJob    = "LOOSEBOX_FAULT_LIMIT"
	codeBroken    = 3 // something that must not be
	codeDamaged   = 4
	codeInUse     = 5
	codeFailed    = 1
	codeUnknown   = 7
	builtVariable = "LOOSEBOX_FAULT_BUILT" // where the whole program is built
	jobExam       = "exam"
	jobMeet       = "meet"
	jobOpen       = "open"
	jobFill       = "fill"
	jobImport     = "import"
	answerSeen    = "seen"
	answerWhole   = "whole"
	answerChanged = "changed"
)

// runJob does a child's work and returns its exit code.
func runJob(job string) int {
	dir := os.Getenv(folderInJob)
	var err error
	switch job {
	case jobExam:
		err = examForEver(dir, os.Getenv(seedInJob), os.Stdout)
	case jobMeet:
		err = meetEach(dir, bufio.NewScanner(os.Stdin), os.Stdout)
	case jobOpen:
		err = openOnce(dir)
	case jobImport:
		err = importTable(dir, os.Stdout)
	case jobFill:
		err = fillUp(dir, os.Getenv(limitInJob), os.Stdout)
	default:
		return codeUnknown
	}
	if err == nil {
		return 0
	}
	_, _ = fmt.Fprintln(os.Stderr, err)
	switch {
	case errors.Is(err, exam.ErrDamaged):
		return codeDamaged
	case errors.Is(err, exam.ErrInUse):
		return codeInUse
	case errors.Is(err, errBroken):
		return codeBroken
	}
	return codeFailed
}

// errBroken marks an error that is a defect of the program: a lost entry, a wrong value, a panic.
var errBroken = errors.New("broken")

func broken(format string, args ...any) error {
	return fmt.Errorf("%w: %s", errBroken, fmt.Sprintf(format, args...))
}

// child starts this program again with a job.
func child(job, dir string, more ...string) (*exec.Cmd, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(self)
	cmd.Env = append(append(os.Environ(), jobVariable+"="+job, folderInJob+"="+dir), more...)
	return cmd, nil
}

func openOnce(dir string) error {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	_, err = r.Horses()
	return errors.Join(err, r.Close())
}

// builtWork is the work factor of passphrases in the program that is built: the usual one, but in tests at a desk.
var builtWork string

// withBuilt gives the built program a temporary folder while work runs.
func withBuilt(work func()) {
	dir, err := os.MkdirTemp("", "loosebox-fault-built-")
	if err == nil {
		err = os.Setenv(builtVariable, dir)
	}
	if err != nil {
		_, _ = fmt.Fprintln(os.Stderr, err) // the trials that need it say so
	}
	defer removeAll(dir)
	work()
}

func removeAll(dir string) { _ = os.RemoveAll(dir) }

// running is a child process: its stdin, the lines of its stdout, and the beginning of its stderr.
type running struct {
	cmd  *exec.Cmd
	in   io.WriteCloser
	told *bufio.Scanner
	said stderr
}

// started starts a child with a job.
func started(job, dir string, more ...string) (*running, error) {
	cmd, err := child(job, dir, more...)
	if err != nil {
		return nil, err
	}
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	r := &running{cmd: cmd, in: in, told: bufio.NewScanner(out)}
	cmd.Stderr = &r.said
	return r, cmd.Start()
}
