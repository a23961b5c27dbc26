// Command loosebox walks a technician through the physical exam of a horse in
// one fixed order, counts what must be counted, sets every finding beside its
// range and keeps the record.
package main

import (
	"io"
	"os"
	"strconv"
	"time"

	"github.com/charmbracelet/x/term"

	"loosebox/cmd/loosebox/unasked"
)

func main() {
	unasked.Done()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run runs one command line and returns the exit code.
func run(args []string, in *os.File, out, errOut *os.File) int {
	return newEnv(in, out, errOut).run(args)
}

// work is the work factor of passphrases in a program that is linked for tests at a desk (-ldflags "-X main.work=14"): a
// passphrase takes some milliseconds there and not a second. In every other program it is empty, which is the usual factor.
var work string

// newEnv is what a process is given. It is the only place that reads the clock and the environment.
func newEnv(in, out, errOut *os.File) *env {
	return &env{
		in: in, out: out, errOut: errOut,
		inTerminal:  term.IsTerminal(in.Fd()),
		outTerminal: term.IsTerminal(out.Fd()),
		lookup:      os.Getenv,
		now:         time.Now, //nolint:forbidigo // the one clock, passed on from here
		work:        factor(),
	}
}

// factor is the work factor that was linked in, 0 for the usual one.
func factor() int {
	n, err := strconv.Atoi(work)
	if err != nil {
		return 0
	}
	return n
}

var _ io.Reader = (*os.File)(nil)
